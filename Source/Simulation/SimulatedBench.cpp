// SPDX-License-Identifier: GPL-3.0-or-later
#include "Simulation/SimulatedBench.h"

#include "Quantities/Decibels.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {

namespace {

constexpr double fade_s = 0.5;

// Orders 2 and 3 of a tone share its distortion as 4 to 3; their squares add up to one.
constexpr double secondShare = 0.8, thirdShare = 0.6;

// Orders 1 to 3 of the hum, their squares adding up to one (rounded): a transformer's hum is strongest in its
// first.
constexpr double humShares[] = {0.8639, 0.4319, 0.2592};

// Whole periods in 10 s, so that a reading of 10 s has the truth as its mean.
constexpr Hertz slowWanderFrequency(0.1), fasterWanderFrequency(0.2);
constexpr double slowShare = 0.6, fasterShare = 0.4;

// RMS of the drive channel's converter noise, in full scale: -104 dBFS.
constexpr double driveNoiseRms = 4.5e-6;

// Peak amplitude in full scale of a tone at the microphone, and RMS of a noise of the same level (AES17: a
// full-scale sine reads 0 dBFS, so its RMS of 1/sqrt(2) does too).
double amplitudeOf(double level_dBSPL, const Scenario& scenario)
{
    return ratioFrom_dB(level_dBSPL - scenario.offset_dB);
}
double rmsOf(double level_dBSPL, const Scenario& scenario)
{
    return amplitudeOf(level_dBSPL, scenario) / std::numbers::sqrt2;
}

float converted(double sample)
{
    return static_cast<float>(std::clamp(sample, -1.0, 1.0));
}

bool sameSource(const OnCoupler& a, const OnCoupler& b)
{
    return a.what == b.what && (a.what != OnCoupler::What::earphone || (a.earphone == b.earphone && a.side == b.side));
}

} // namespace

SimulatedBench::SimulatedBench(const Scenario& s, double sampleRate_Hz, std::uint64_t seed) noexcept
    : scenario(s), rate_Hz(sampleRate_Hz), seeds(seed), microphoneNoise(rmsOf(s.noise_dBSPL, s), sampleRate_Hz, seeds),
      driveNoise(seeds), mains(s.mains, sampleRate_Hz), slowWander(slowWanderFrequency, sampleRate_Hz),
      fasterWander(fasterWanderFrequency, sampleRate_Hz, 1.0), humAmplitude(amplitudeOf(s.hum_dBSPL, s)),
      microphoneLevel(static_cast<int>(fade_s * sampleRate_Hz)), driveLevel(static_cast<int>(fade_s * sampleRate_Hz))
{
}

bool SimulatedBench::put(const OnCoupler& next) noexcept
{
    if (next.what == OnCoupler::What::earphone) {
        if (next.earphone >= scenario.earphones.size())
            return false;
        if (next.drive && !(next.drive->value >= 0.0 && std::isfinite(next.drive->value)))
            return false;
    }
    if (next == wanted)
        return true;
    wanted = next;
    if (sameSource(wanted, sounding)) {
        startWanted();
    }
    else {
        microphoneLevel.moveTo(0.0);
        driveLevel.moveTo(0.0);
    }
    return true;
}

bool SimulatedBench::settled() const noexcept
{
    return sounding == wanted && microphoneLevel.arrived() && driveLevel.arrived();
}

void SimulatedBench::startWanted() noexcept
{
    if (!sameSource(wanted, sounding))
        voice = voiceOf(wanted);
    sounding = wanted;
    microphoneLevel.moveTo(microphoneAmplitude(wanted));
    driveLevel.moveTo(driveAmplitude(wanted));
}

void SimulatedBench::render(std::span<float> microphone, std::span<float> drive) noexcept
{
    for (std::size_t n = 0; n < microphone.size(); ++n) {
        if (sounding != wanted && microphoneLevel.arrived() && driveLevel.arrived())
            startWanted();
        const auto sines = voice.tone.next();
        const double tone = sines.first + voice.secondOrder * sines.second + voice.thirdOrder * sines.third;
        const double pressure = microphoneLevel.next() * nextWander() * tone;
        microphone[n] = converted(pressure + nextHum() + microphoneNoise.next() + scenario.microphoneDc);
        const double sensed = driveLevel.next() * sines.first;
        const double driveSample = sensed + driveNoiseRms * driveNoise.nextNormal() + scenario.driveDc;
        if (n < drive.size())
            drive[n] = converted(driveSample);
    }
}

SimulatedBench::Voice SimulatedBench::voiceOf(const OnCoupler& on) const noexcept
{
    const auto voiced = [this](Hertz frequency, double distortion_percent) {
        const double share = distortion_percent / 100.0;
        return Voice{Oscillator(frequency, rate_Hz), secondShare * share, thirdShare * share};
    };
    switch (on.what) {
    case OnCoupler::What::calibrator:
        return voiced(scenario.calibrator.frequency, scenario.calibrator.distortion_percent);
    case OnCoupler::What::earphone: {
        const auto& earphone = scenario.earphones[on.earphone];
        return voiced(earphone.frequency, earphone.distortion_percent);
    }
    case OnCoupler::What::nothing:
        break;
    }
    return {};
}

double SimulatedBench::microphoneAmplitude(const OnCoupler& on) const noexcept
{
    const auto level_dBSPL = trueLevel_dBSPL(scenario, on);
    return level_dBSPL ? amplitudeOf(*level_dBSPL, scenario) : 0.0;
}

double SimulatedBench::driveAmplitude(const OnCoupler& on) const noexcept
{
    if (on.what != OnCoupler::What::earphone)
        return 0.0;
    return on.drive.value_or(scenario.earphones[on.earphone].drive) / scenario.driveFullScale;
}

// The level moves by less than seatWander_dB, small enough for the first term of its exponential.
double SimulatedBench::nextWander() noexcept
{
    const double wander = slowShare * slowWander.next().first + fasterShare * fasterWander.next().first;
    return 1.0 + wander * scenario.seatWander_dB / dBPerRelative;
}

double SimulatedBench::nextHum() noexcept
{
    const auto sines = mains.next();
    return humAmplitude * (humShares[0] * sines.first + humShares[1] * sines.second + humShares[2] * sines.third);
}

} // namespace couplet
