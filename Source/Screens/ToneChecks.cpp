// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ToneChecks.h"

#include "Quantities/QuantityText.h"
#include "Screens/SumContent.h"
#include "Screens/Words.h"

#include <fmt/format.h>

namespace couplet {
namespace {

const std::string none = "\u2013";

template <class Format> std::string textOf(const std::optional<double>& value, const Format& format)
{
    return value ? fmt::format(fmt::runtime(format), *value) : none;
}

// measuredLevel() puts the offset second, after the tone.
std::optional<double> offsetOf(const Reading& r)
{
    if (!r.referenced || !r.measured || r.measured->addends.size() < 2)
        return {};
    return r.measured->addends[1].value_dB;
}

ToneCheck noiseCheck(const Reading& r)
{
    ToneCheck check{"noise, 20 Hz to 20 kHz", "noise", "\u2212000.0 dBFS", none};
    if (r.tone.noise_dBFS) {
        const auto offset = offsetOf(r);
        check.value = oneDecimalText(*r.tone.noise_dBFS + offset.value_or(0.0)) + (offset ? " dB SPL" : " dBFS");
    }
    return check;
}

ToneCheck headroomCheck(const ToneSummary& tone)
{
    if (tone.clippedSamples > 0)
        return {"headroom", "headroom", "000.0 dB", fmt::format("clipped, {}\u00d7", tone.clippedSamples), true};
    if (tone.headroom_dB && *tone.headroom_dB < 0.0)
        return {"headroom", "headroom", "000.0 dB", oneDecimalText(*tone.headroom_dB) + " dB", true};
    return {"headroom", "headroom", "000.0 dB", textOf(tone.headroom_dB, "{:.1f} dB")};
}

ToneCheck humCheck(const ToneSummary& tone)
{
    constexpr double visible_dB = 0.005; // of its effect on the level, as the reading's notes have it
    const auto below = tone.humBelowTone_dB();
    if (!below || !tone.hum)
        return {"hum, below tone", "hum", "none heard", tone.level_dBFS ? "none heard" : none};
    return {fmt::format("{:.0f} Hz hum, below tone", tone.hum->value),
            fmt::format("{:.0f} Hz hum below", tone.hum->value), "none heard", fmt::format("{:.0f} dB", *below),
            tone.humBound_dB >= visible_dB};
}

// IEC 60318-4 (abstract): ear-like from 100 Hz to 10 kHz, a mere coupler from 20 Hz to 16 kHz.
ToneCheck rangeCheck(const ToneSummary& tone)
{
    ToneCheck check{"range", "range", "ear-like", none};
    if (!tone.frequency)
        return check;
    const double f = tone.frequency->value;
    const bool earLike = f >= 100.0 && f <= 10000.0, inside = f >= 20.0 && f <= 16000.0;
    check.value = earLike ? "ear-like" : inside ? "coupler only" : "outside";
    check.amiss = !earLike;
    return check;
}

} // namespace

std::vector<ToneCheck> toneChecks(const LiveView& view)
{
    const Reading nothing;
    const Reading& r = hearing(view) == Hearing::noAudio ? nothing : view.reading;
    const ToneSummary& tone = r.tone;
    ToneCheck frequency{"frequency", "frequency", "10000.00 Hz",
                        tone.frequency ? frequencyText(*tone.frequency) : none};
    frequency.elsewhere = true;
    return {frequency,
            {"steady", "steady", "\u00b10.00 dB", textOf(tone.steadiness_dB, "\u00b1{:.2f} dB"), isUnsteady(tone)},
            {"distortion", "distortion", "00.00 %", textOf(tone.distortion_percent, "{:.2f} %")},
            noiseCheck(r),
            headroomCheck(tone),
            humCheck(tone),
            rangeCheck(tone)};
}

} // namespace couplet
