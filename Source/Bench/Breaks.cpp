// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/Breaks.h"

#include "Quantities/Decibels.h"

#include <fmt/format.h>

#include <cmath>

namespace couplet {
namespace {

constexpr int hopsOfCalm = 3;
constexpr int longestBreak = 20; // hops: what comes after a second is another tone

// Over a hop or two after a break, at 10 dB above the noise and more.
constexpr double sameLevel_dB = 0.2;
constexpr double sameFrequency = 1e-3;

bool isSameTone(const ToneEstimate& a, const ToneEstimate& b)
{
    return std::abs(decibels(a.hopAmplitude / b.hopAmplitude)) < sameLevel_dB &&
           std::abs(a.frequency_Hz - b.frequency_Hz) < sameFrequency * b.frequency_Hz;
}

double end_s(const Estimate& e)
{
    return static_cast<double>(e.hop) * e.hop_s;
}

std::string lengthText(double length_s)
{
    return fmt::format("{:.{}f}", 1e3 * length_s, length_s < 9.5e-3 ? 1 : 0);
}

std::string timeText(bool live, double at_s, double now_s)
{
    if (!live)
        return fmt::format("at {:.1f} s", at_s);
    const double ago_s = std::max(0.0, now_s - at_s);
    return ago_s < 0.5 ? std::string("just now") : fmt::format("{:.0f} s ago", ago_s);
}

} // namespace

// Those that never ended for long enough are told as well.
Breaks BreakWatch::breaks() const
{
    Breaks all = found;
    if (heard > told && told >= 0) {
        auto& kind = all.kinds[static_cast<std::size_t>(Interruption::dropOut)];
        kind = {kind.count + static_cast<int>(heard - told), lostAt_s, lost_s};
    }
    return all;
}

void BreakWatch::add(const Estimate& e)
{
    told = told < 0 ? e.dropOuts : told;
    if (e.dropOuts > heard) {
        lost_s = static_cast<double>(e.dropOutSamples - heardSamples) / static_cast<double>(e.dropOuts - heard) /
                 e.sampleRate_Hz;
        lostAt_s = end_s(e) - e.hop_s;
    }
    heard = e.dropOuts;
    heardSamples = e.dropOutSamples;
    const bool jumped = e.tone.restarted && !e.tone.unbroken; // else it wobbles
    const bool good = e.tone.held() && e.tone.hopAmplitude > 0.0 && !jumped && !e.disturbed && !e.broken &&
                      (calmHops == 0 || openHops > 0 || e.dropOuts == calm.dropOuts);
    if (good && openHops > 0) {
        close(e);
        openHops = 0;
        calmHops = 0;
    }
    if (good) {
        ++calmHops;
        calm = e;
        return;
    }
    if (openHops == 0 && calmHops < hopsOfCalm) {
        calmHops = 0;
        return;
    }
    if (openHops++ == 0) {
        opened_s = end_s(e) - e.hop_s;
        lost = broken = false;
    }
    lost = lost || !e.tone.held();
    broken = broken || e.broken;
    if (openHops > longestBreak)
        openHops = calmHops = 0;
}

void BreakWatch::close(const Estimate& e)
{
    const auto add = [&](Interruption what, double length_s) {
        auto& kind = found.kinds[static_cast<std::size_t>(what)];
        kind = {kind.count + 1, opened_s, length_s};
    };
    if (const auto count = e.dropOuts - calm.dropOuts; count > 0) {
        add(Interruption::dropOut, static_cast<double>(e.dropOutSamples - calm.dropOutSamples) / e.sampleRate_Hz);
        found.kinds[static_cast<std::size_t>(Interruption::dropOut)].count += static_cast<int>(count) - 1;
        told += count;
    }
    else if (!broken && isSameTone(e.tone, calm.tone)) // else it is another, or what spoilt it is told already
        add(lost ? Interruption::jump : Interruption::knock, 0.0);
}

std::vector<std::string> breakSentences(const Breaks& breaks, bool live, double now_s)
{
    std::vector<std::string> sentences;
    const auto say = [&](Interruption what, const auto& once, const auto& often) {
        const auto& kind = breaks[what];
        const auto time = timeText(live, kind.at_s, now_s);
        if (kind.count == 1)
            sentences.push_back(once(kind, time));
        else if (kind.count > 1)
            sentences.push_back(often(kind, time));
    };
    using Kind = Breaks::Kind;
    const auto fix = "lengthen the device's buffer or look for what keeps the computer busy";
    say(
        Interruption::dropOut,
        [&](const Kind& k, const std::string& time) {
            return fmt::format("a drop-out of {} ms {}: no sound came from upstream; {}", lengthText(k.length_s), time,
                               fix);
        },
        [&](const Kind& k, const std::string& time) {
            return fmt::format("{} drop-outs, the last of {} ms {}: no sound came from upstream; {}", k.count,
                               lengthText(k.length_s), time, fix);
        });
    say(
        Interruption::jump,
        [&](const Kind&, const std::string& time) {
            return fmt::format("the tone broke off {} and went on as before: samples were lost, or it was knocked",
                               time);
        },
        [&](const Kind& k, const std::string& time) {
            return fmt::format("the tone broke off {} times, last {}, and went on as before: samples were lost, or it "
                               "was knocked",
                               k.count, time);
        });
    say(
        Interruption::knock,
        [&](const Kind&, const std::string& time) {
            return fmt::format("a knock or another noise beside the tone {}", time);
        },
        [&](const Kind& k, const std::string& time) {
            return fmt::format("{} knocks or other noises beside the tone, the last {}", k.count, time);
        });
    return sentences;
}

} // namespace couplet
