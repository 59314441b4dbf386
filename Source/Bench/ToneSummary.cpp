// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ToneSummary.h"

#include <fmt/format.h>

#include <cmath>

namespace couplet {

std::optional<double> ToneSummary::humBelowTone_dB() const
{
    if (!level_dBFS || !hum_dBFS)
        return {};
    return *level_dBFS - *hum_dBFS;
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
    f.steadyFor_s = s.stretch_s;
    f.slope_dBPerSecond = s.slope_dBPerSecond;
    f.slopeU_dBPerSecond = s.slopeU_dBPerSecond;
    f.humBelowTone_dB = s.humBelowTone_dB();
    return f;
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
