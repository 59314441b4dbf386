// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ToneTracker.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

// What a fit says, in the terms of a reader; and when a level must be withheld because of the mains.
namespace couplet {
namespace {

constexpr auto idx(int i)
{
    return static_cast<std::size_t>(i);
}

// A line of the mains counts when its power is this many times what noise alone would give it.
constexpr double standsOutOfNoise = 10.0;

// A level is withheld when a mains order that falls on it may move it by more than 0.02 dB.
constexpr double mostMainsShare = 0.0023; // 20 lg(1 + 0.0023) = 0.02 dB

// Below 80 Hz a hop of 50 ms cannot part tone and hum when the hum is strong.
constexpr double lowBesideHum_Hz = 79.0;
constexpr double strongHum = 0.1;

// A grid keeps its frequency within some 0.2 Hz (common practice, no source).
constexpr double mainsReach_Hz = 0.25;

} // namespace

void ToneTracker::publish()
{
    const double toHz = sampleRate / (2.0 * pi);
    const bool tone = state != State::searching;
    result.restarted = changed;
    changed = false;
    result.amplitude = tone ? fit.amplitude : 0.0;
    result.frequency_Hz = tone ? fit.tuning.tone * toHz : 0.0;
    result.sigmaAmplitude = tone ? fit.sigmaAmplitude : 0.0;
    result.sigmaFrequency_Hz = tone ? fit.sigmaOmega * toHz : 0.0;
    result.window_s = fit.samples / sampleRate;
    result.hopAmplitude = tone ? magnitude(hopTone) : 0.0;
    result.dc = fit.atCentre.dc;
    result.noisePower = fit.noiseVariance;
    for (int k = 1; k < toneOrders; ++k)
        result.harmonics[idx(k)] = tone && fit.solved[idx(k)] ? magnitude(fit.atCentre.line[idx(k)]) : 0.0;
    result.reason = state == State::searching    ? NoTone::searching
                    : state == State::confirming ? NoTone::confirming
                                                 : NoTone::none;
    judgeMains();
}

void ToneTracker::judgeMains()
{
    result.mainsFrequency_Hz = fit.tuning.mains * sampleRate / (2.0 * pi);
    const double inNoise = fit.samples > 0.0 ? 4.0 * fit.noiseVariance / fit.samples : 0.0;
    std::array<double, mainsOrders + 2> amplitude{}; // [1] to [10]
    double power = 0.0;
    for (int order = 1; order <= mainsOrders; ++order) {
        const int line = firstMainsLine + order - 1;
        if (!fit.solved[idx(line)])
            continue;
        const double a = magnitude(fit.atCentre.line[idx(line)]);
        if (a * a > standsOutOfNoise * inNoise) {
            amplitude[idx(order)] = a;
            power += a * a;
        }
    }
    result.mainsAmplitude = std::sqrt(power);
    result.mainsBound = 0.0;
    if (state == State::searching)
        return;

    if (onMainsItself()) {
        result.reason = NoTone::onMains;
        result.mainsFrequency_Hz = result.frequency_Hz;
        power += result.amplitude * result.amplitude;
        for (const double harmonic : result.harmonics)
            power += harmonic * harmonic;
        result.mainsAmplitude = std::sqrt(power);
        return;
    }

    // An order left out because it falls on the tone is bounded by its neighbours.
    const double order = std::round(fit.tuning.tone / fit.tuning.mains);
    const double gap = 1.5 * 2.0 * pi / fit.samples;
    if (order >= 1.0 && order <= mainsOrders && std::abs(fit.tuning.tone - order * fit.tuning.mains) < gap) {
        const int h = static_cast<int>(order);
        result.mainsBound = std::max(amplitude[idx(h - 1)], amplitude[idx(h + 1)]);
        if (result.mainsBound > mostMainsShare * fit.amplitude)
            result.reason = NoTone::onMains;
    }
    if (keepsLosingLow() ||
        (result.frequency_Hz < lowBesideHum_Hz && result.mainsAmplitude > strongHum * fit.amplitude))
        result.reason = NoTone::lowBesideHum;
}

// The mains' first order has no neighbour below it that would bound it, and is as a rule the strongest: a tone there
// is taken for the mains.
bool ToneTracker::onMainsItself() const
{
    if (state == State::searching)
        return false;
    const double toHz = sampleRate / (2.0 * pi);
    const double reach = mainsReach_Hz + 4.0 * fit.sigmaOmega * toHz;
    const double tone = fit.tuning.tone * toHz;
    return std::abs(tone - 50.0) < reach || std::abs(tone - 60.0) < reach;
}

} // namespace couplet
