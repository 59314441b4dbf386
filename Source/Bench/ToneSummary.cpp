// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ToneSummary.h"

#include "Quantities/Decibels.h"
#include "Signal/Sound.h"

#include <fmt/format.h>

#include <cmath>

namespace couplet {
namespace {

// A tone has been there for so long, two hops to four, when it is found: a take of five seconds holds five seconds of it.
constexpr double findingTone_s = 0.2;

} // namespace

std::optional<double> ToneSummary::humBelowTone_dB() const
{
    if (!level_dBFS || !hum_dBFS)
        return {};
    return *level_dBFS - *hum_dBFS;
}

UsedStretch usedStretch(const ToneSummary& s, bool live)
{
    UsedStretch used;
    used.level_dBFS = *s.level_dBFS;
    used.frequency_Hz = s.frequency->value;
    used.start_s = s.start_s;
    used.length_s = s.stretch_s;
    used.drift_dB = s.slope_dBPerSecond * s.stretch_s;
    used.driftU_dB = s.slopeU_dBPerSecond * s.stretch_s;
    used.straying_dB = s.steadiness_dB.value_or(0.0);
    used.others_percent = s.distortionAndNoise_percent.value_or(0.0);
    used.live = live;
    return used;
}

double headroomOf(double peak)
{
    const double dB = -decibels(peak);
    return dB < 0.0 || peak < static_cast<double>(converterFullScale) ? dB : 0.0;
}

std::optional<ToneFacts> toneFacts(const ToneSummary& s)
{
    if (!s.level_dBFS || !s.frequency)
        return {};
    ToneFacts f;
    f.frequency = *s.frequency;
    f.steadiness_dB = s.steadiness_dB.value_or(0.0);
    f.distortionAndNoise_percent = s.distortionAndNoise_percent.value_or(0.0);
    f.aboveNoise_dB = s.noise_dBFS ? *s.level_dBFS - *s.noise_dBFS : 200.0;
    f.headroom_dB = s.headroom_dB.value_or(0.0);
    f.clippedSamples = static_cast<long>(s.clippedSamples);
    f.steadyFor_s = s.stretch_s + (s.begins ? findingTone_s : 0.0);
    f.slope_dBPerSecond = s.slope_dBPerSecond;
    f.slopeU_dBPerSecond = s.slopeU_dBPerSecond;
    f.humBelowTone_dB = s.humBelowTone_dB();
    return f;
}

std::string clippedElsewhereSentence(const ToneSummary& s)
{
    const bool before = s.clippedElsewhere_s < s.start_s;
    return fmt::format(
        "{} samples were clipped outside the stretch that was used, the {} at {:.1f} s: they do not touch "
        "the level",
        s.clippedElsewhere, before ? "first" : "last", s.clippedElsewhere_s);
}

std::string beyondSentence(double headroom_dB)
{
    return fmt::format("the samples go {:.1f} dB beyond full scale, as floats can and no converter does; a converter "
                       "behind this would clip them",
                       -headroom_dB);
}

std::string brokenSentence(std::int64_t samples)
{
    return fmt::format("{} sample{} no sound (not a number, or beyond +120 dBFS) and counted as zero", samples,
                       samples == 1 ? " was" : "s were");
}

void noteBroken(const ToneSummary& s, std::vector<std::string>& notes)
{
    if (s.brokenSamples > 0)
        notes.push_back(brokenSentence(s.brokenSamples));
    if (s.brokenSecondSamples > 0)
        notes.push_back("on the drive's channel, " + brokenSentence(s.brokenSecondSamples));
}

std::string whyNoTone(NoTone reason, const ToneEstimate& e)
{
    switch (reason) {
    case NoTone::none:
        return {};
    case NoTone::searching:
        return "no tone stands out of the noise: is it playing, and is this the microphone's channel?";
    case NoTone::confirming:
        return "a tone was heard, but never for long enough to be sure of it";
    case NoTone::onMains:
        if (std::abs(e.frequency_Hz - e.mainsFrequency_Hz) < 1.0)
            return fmt::format("what stands out is the mains at {:.0f} Hz, not a tone: play one, at another frequency",
                               e.mainsFrequency_Hz);
        return fmt::format(
            "the tone at {:.2f} Hz lies on an order of the {:.0f} Hz mains that may move it by more than "
            "0.02 dB: choose another frequency or lessen the hum",
            e.frequency_Hz, e.mainsFrequency_Hz);
    case NoTone::lowBesideHum:
        return fmt::format("the tone at {:.2f} Hz is too low to be parted from hum as strong as this: lessen the hum, "
                           "or use a tone above 80 Hz",
                           e.frequency_Hz);
    case NoTone::notAlone:
        return "a tone stands out, but another sound is as strong as it: play one tone alone, and keep the room quiet";
    }
    return {};
}

} // namespace couplet
