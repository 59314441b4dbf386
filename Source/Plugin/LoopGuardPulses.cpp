// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LoopGuard.h"

#include "Quantities/Decibels.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

// Rules of this product: docs/method.md, When a microphone hears itself.
constexpr double pulseOver_dB = 12.0, pulseQuiet_dBFS = -24.0, pulseLoud_dBFS = -15.0, pulseMost_dB = -3.0;
constexpr double answerRise_dB = 5.0, nextRise_dB = 3.0, allRise_dB = 4.0, answerFall_dB = 3.0, answerBelow_dB = 9.0;
constexpr double answerSpare_s = 0.06, pulseSame_s = 0.01, backFor_s = 0.15, alike_dB = 6.0;
constexpr std::size_t framesBefore = 4, framesOfAnswer = 6, framesApart = 1;
constexpr double leastGap_s = 0.045, mostGap_s = 0.075; // from one pulse's start to the next one's

} // namespace

// Into the silence, what sounded before it, again and quietly, in rhythm that nobody else knows.
void LoopGuard::pulse() noexcept
{
    const double level = channels[who].level_dBFS();
    const double most = std::min(pulseLoud_dBFS, level_dBFS + pulseMost_dB);
    const double wanted = std::clamp(level + pulseOver_dB, std::min(pulseQuiet_dBFS, most), most);
    answerAbove_dBFS = wanted - answerBelow_dB;
    lowest_dBFS = level;
    highest_dBFS = -400.0;
    isAnswering = false;
    inRhythm = true;
    answers = pulses = 0;
    back_s = 0.0;
    heard_dBFS.fill(-400.0);
    heard_dBFS[0] = level;
    pulseGain = static_cast<float>(std::min(1.0, ratioFrom_dB(wanted - channels[who].keptLevel_dBFS())));
    double at_s = 0.0;
    for (double& start_s : pulses_s) {
        start_s = at_s;
        chance = chance * 1664525u + 1013904223u; // Numerical Recipes' generator
        at_s += leastGap_s + (mostGap_s - leastGap_s) * static_cast<double>(chance >> 16) / 65536.0;
    }
    enter(State::pulsing);
    startPulse();
}

void LoopGuard::startPulse() noexcept
{
    if (pulses == pulses_s.size() || inState_s < pulses_s[pulses])
        return;
    pulses_s[pulses++] = inState_s; // frames are what time is made of
    pulseAt = 0;
    ++count.pulses;
}

void LoopGuard::followPulses() noexcept
{
    startPulse();
    const double level = channels[who].level_dBFS();
    const auto now = static_cast<std::size_t>(std::lround(inState_s / frame_s));
    if (now < heard_dBFS.size())
        heard_dBFS[now] = level;
    if ((inRhythm && isAnswered(level)) || isAnsweredInAll(now))
        return mute();
    back_s = hasFallen(back_dB) ? 0.0 : back_s + frame_s;
    const double last_s = longestPath_s + answerSpare_s + blocksOfHost * block_s;
    if (back_s > backFor_s || (pulses == pulses_s.size() && inState_s > pulses_s.back() + last_s))
        noLoop(true);
}

// One after the other: each rises clearly, and at the first one's delay. True with the last of them.
bool LoopGuard::isAnswered(double level) noexcept
{
    if (isAnswering) {
        highest_dBFS = std::max(highest_dBFS, level);
        if (level < highest_dBFS - answerFall_dB) {
            isAnswering = false;
            lowest_dBFS = level;
        }
        return false;
    }
    lowest_dBFS = std::min(lowest_dBFS, level);
    if (level <= std::max(answerAbove_dBFS, lowest_dBFS + (answers == 0 ? answerRise_dB : nextRise_dB)))
        return false;
    const double at_s = inState_s - pulses_s[answers];
    if (answers == 0)
        delay_s = at_s;
    if (answers >= pulses || std::abs(at_s - delay_s) > pulseSame_s) {
        inRhythm = false;
        return false;
    }
    isAnswering = true;
    highest_dBFS = level;
    return ++answers == pulses_s.size();
}

// All together, where a room rings on and the single answer is less clear: for one delay each pulse's answer stands out of
// what was there just before, and all of them rise at the same moment after their pulse.
bool LoopGuard::isAnsweredInAll(std::size_t now) const noexcept
{
    if (pulses < pulses_s.size() || now >= heard_dBFS.size())
        return false;
    const auto frameOf = [&](double time_s) { return static_cast<std::size_t>(std::lround(time_s / frame_s)); };
    const std::size_t last = frameOf(pulses_s.back()) + framesOfAnswer;
    if (now < last + framesBefore)
        return false;
    const std::size_t delay = now - last;
    std::size_t soonest = heard_dBFS.size(), latest = 0;
    double quietest = 400.0, loudest = -400.0;
    for (const double pulse_s : pulses_s) {
        const std::size_t at = frameOf(pulse_s) + delay;
        double before = 400.0, top = -400.0;
        for (std::size_t k = at - framesBefore; k < at; ++k)
            before = std::min(before, heard_dBFS[k]);
        for (std::size_t k = at; k < at + framesOfAnswer; ++k)
            top = std::max(top, heard_dBFS[k]);
        if (top < before + allRise_dB || top < answerAbove_dBFS)
            return false;
        std::size_t rises = at - framesBefore;
        while (heard_dBFS[rises] < 0.5 * (before + top) ||
               (rises < at - 1 && heard_dBFS[rises + 1] < heard_dBFS[rises]))
            ++rises;
        soonest = std::min(soonest, rises + framesBefore - at);
        latest = std::max(latest, rises + framesBefore - at);
        quietest = std::min(quietest, top);
        loudest = std::max(loudest, top);
    }
    return latest - soonest <= framesApart && loudest - quietest < alike_dB;
}

} // namespace couplet
