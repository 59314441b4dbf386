// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LoopGuard.h"

#include "Quantities/Decibels.h"
#include "Signal/Sizes.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

// Rules of this product: docs/method.md, When a microphone hears itself.
constexpr double turnWait_s = 0.08; // beyond the path: what a narrow resonance takes to turn
constexpr int steadyBefore = 3;     // frames, before a turn means anything
constexpr int mostWaited = 6;       // frames, for that
constexpr double same_s = 0.0075;   // the same delay
constexpr int mostStrayTurns = 2, mostDoubts = 3;

constexpr double fall_dB = 10.0, beginsToFall_dB = 3.0;
constexpr double ring_s = 0.2; // beyond the path: what a narrow, overdriven resonance takes to fall
constexpr double settle_s = 0.04, settled_dB = 22.0, longestSettle_s = 0.2, ringFall_dB = 0.7, knownSettle_s = 0.010,
                 fallsWithin_s = 0.03;
constexpr double up_dB = 8.0;
constexpr int ringFrames = 5;

} // namespace

void LoopGuard::enter(State next) noexcept
{
    state = next;
    inState_s = 0.0;
}

bool LoopGuard::hasFallen(double by_dB) const noexcept
{
    return channels[who].level_dBFS() < level_dBFS - by_dB;
}

void LoopGuard::endFrame(std::size_t channelCount) noexcept
{
    now_s += frame_s;
    inState_s += frame_s;
    for (std::size_t c = 0; c < channelCount; ++c)
        channels[c].endFrame(now_s);
    switch (state) {
    case State::watching:
        return watch(channelCount);
    case State::turned:
        return followTurn();
    case State::turnedBack:
        return followTurnBack();
    case State::silenced:
        return followSilence();
    case State::settling:
        return settle();
    case State::pulsing:
        return followPulses();
    case State::muted:
        return;
    }
}

void LoopGuard::watch(std::size_t channelCount) noexcept
{
    for (std::size_t c = 0; c < channelCount; ++c) {
        GuardChannel& channel = channels[c];
        const auto suspicion = channel.suspicion(now_s);
        if (suspicion == GuardChannel::Suspicion::none)
            continue;
        who = c;
        level_dBFS = suspicion == GuardChannel::Suspicion::tonal ? channel.level_dBFS() : channel.wideLevel_dBFS();
        turn_s = -1.0;
        const bool mayBeSteady = channel.waitsForLine() || channel.line().runs();
        if (mayBeSteady && channel.line().steadyFrames() < steadyBefore && ++waited < mostWaited)
            continue;
        waited = 0;
        if (channel.line().steadyFrames() >= steadyBefore && strayTurns < mostStrayTurns)
            return turnOutput();
        return silence();
    }
}

void LoopGuard::turnOutput() noexcept
{
    ++count.turns;
    target = -1.0f;
    enter(State::turned);
}

void LoopGuard::followTurn() noexcept
{
    if (hasFallen(fall_dB))
        return silence(); // the sound has ended, or a short path's loop
    if (channels[who].line().turned()) {
        turn_s = inState_s;
        target = 1.0f;
        return enter(State::turnedBack);
    }
    if (inState_s > longestPath_s + turnWait_s + blocksOfHost * block_s)
        noLoop(false);
}

void LoopGuard::followTurnBack() noexcept
{
    if (inState_s > turn_s - same_s && channels[who].line().turned())
        return silence();
    if (hasFallen(fall_dB)) {
        turn_s = -1.0;
        return silence();
    }
    if (inState_s > turn_s + same_s) { // not at that delay: by chance, or by what plays along
        ++strayTurns;
        enter(State::watching);
    }
}

void LoopGuard::silence() noexcept
{
    ++count.silences;
    fall_s = -1.0;
    answers = 0;
    silenced_s = now_s;
    target = 0.0f;
    enter(State::silenced);
}

void LoopGuard::followSilence() noexcept
{
    if (!hasFallen(beginsToFall_dB))
        fall_s = -1.0;
    else if (fall_s < 0.0)
        fall_s = inState_s;
    if (hasFallen(fall_dB)) {
        lowest_dBFS = channels[who].level_dBFS();
        return enter(State::settling);
    }
    if (inState_s > longestPath_s + ring_s + blocksOfHost * block_s)
        noLoop(false);
}

void LoopGuard::settle() noexcept
{
    const double level = channels[who].level_dBFS();
    lowest_dBFS = std::min(lowest_dBFS, level);
    if (level > lowest_dBFS + up_dB && !hasFallen(back_dB)) { // it came back: a beat, or another's
        enter(State::silenced);
        inState_s = now_s - silenced_s;
        fall_s = -1.0;
        return;
    }
    const bool atItsDelay = turn_s > 0.0 && fall_s > turn_s - same_s - frame_s && fall_s < turn_s + fallsWithin_s;
    if (atItsDelay && inState_s > knownSettle_s)
        return mute();
    // A room that rings on is waited for while it falls.
    const bool stillFalls =
        inState_s < longestSettle_s && level < channels[who].levelBefore_dBFS(ringFrames) - ringFall_dB;
    if (hasFallen(settled_dB) || (inState_s > settle_s && !stillFalls))
        pulse();
}

void LoopGuard::mute() noexcept
{
    pulseAt = echo;
    target = 0.0f;
    enter(State::muted);
    isMuted.store(true, std::memory_order_relaxed);
}

void LoopGuard::noLoop(bool itFell) noexcept
{
    pulseAt = echo;
    target = 1.0f;
    enter(State::watching);
    if (itFell && ++doubts <= mostDoubts) { // ask again at once
        for (GuardChannel& channel : channels)
            channel.letDown();
        return;
    }
    doubts = strayTurns = 0;
    channels[who].trust(level_dBFS, now_s);
}

} // namespace couplet
