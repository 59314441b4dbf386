// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/GuardChannel.h"

#include <array>
#include <atomic>
#include <cstddef>
#include <cstdint>

// Purpose: passes audio on, and finds out whether what is loud is a loop from this output back to the input. It asks the
//          sound: it turns the output's polarity, and a loop turns a path's delay later; then it silences the output, and a
//          loop falls silent as well. What does neither goes on, and is not asked again while it stands. A loop stays muted
//          until someone has broken it and says so.
// Shapes:  blocks of any size, one or two channels, each judged for itself, all silenced together: a loop may run from
//          one channel's output to the other's input. Frames of 5 ms.
// Ranges:  any rate; paths of up to 0.1 s and three of the largest blocks. What is never loud is never touched.
// Source:  the rules are of this product (docs/method.md, When a microphone hears itself).
// Thread:  process: audio. prepare: any but audio, also while audio runs (blocks that come meanwhile pass unwatched, and
//          silent if muted). muted, unmute: any. No lock.
namespace couplet {

class LoopGuard
{
public:
    void prepare(double sampleRate_Hz, int largestBlock = 0); // keeps a mute
    void process(float* const* channels, int channelCount, int samples) noexcept;
    // Nothing is passed on, or nobody listens: what was under way is given up. A mute stays.
    void rest() noexcept;

    bool muted() const noexcept { return isMuted.load(std::memory_order_relaxed); }
    // The loop was broken: watch anew.
    void unmute() noexcept { wantsUnmute.store(true, std::memory_order_release); }

    // How often the output was altered: by a turn of its polarity, by silence; for tests and their table. Audio.
    struct Asked
    {
        int turns = 0, silences = 0, pulses = 0;
        double silent_s = 0.0;
    };
    const Asked& asked() const noexcept { return count; }

private:
    static constexpr std::size_t channelsWatched = 2;
    static constexpr double longestPath_s = 0.1, blocksOfHost = 3.0; // what an answer may take
    static constexpr double back_dB = 6.0;                           // this near to what sounded it has come back
    enum class State { watching, turned, turnedBack, silenced, settling, pulsing, muted };

    void pass(float* const* channels, std::size_t channelCount, int samples) noexcept;
    void render(float* const* channels, std::size_t channelCount, int samples) noexcept;
    void startAnew() noexcept;
    void endFrame(std::size_t channelCount) noexcept;
    void watch(std::size_t channelCount) noexcept;
    void followTurn() noexcept;
    void followTurnBack() noexcept;
    void followSilence() noexcept;
    void settle() noexcept;
    void followPulses() noexcept;
    void startPulse() noexcept;
    bool isAnswered(double level_dBFS) noexcept;
    bool isAnsweredInAll(std::size_t frame) const noexcept;
    void enter(State) noexcept;
    void turnOutput() noexcept;
    void silence() noexcept;
    void pulse() noexcept;
    void mute() noexcept;
    void noLoop(bool itFell) noexcept;
    bool hasFallen(double by_dB) const noexcept;

    std::atomic_flag busy; // held for a block or while preparing; of what follows
    std::array<GuardChannel, channelsWatched> channels;
    std::size_t who = 0; // the channel that is asked
    double rate_Hz = 48000.0, frame_s = 0.005, block_s = 0.0;
    int frame = 0, filled = 0;
    std::size_t echo = 1, pulseAt = 0;
    double now_s = 0.0, inState_s = 0.0;
    State state = State::watching;
    float gain = 1.0f, target = 1.0f, fadeStep = 1.0f, pulseGain = 0.0f;
    double level_dBFS = 0.0, lowest_dBFS = 0.0, highest_dBFS = 0.0, answerAbove_dBFS = 0.0; // of what is asked
    double turn_s = -1.0;  // the delay after which it turned, twice
    double fall_s = -1.0;  // ... after which it began to fall
    double delay_s = -1.0; // ... of the first pulse
    double silenced_s = 0.0;
    std::array<double, 3> pulses_s{}; // their starts, since the first
    std::size_t pulses = 0, answers = 0;
    std::array<double, 256> heard_dBFS{}; // frame by frame since the first pulse
    double back_s = 0.0;                  // so long it has been nearly as loud as before
    bool isAnswering = false, inRhythm = true, isResting = false;
    int doubts = 0, strayTurns = 0, waited = 0;
    std::uint32_t chance = 1;
    Asked count;
    std::atomic<bool> isMuted{false}, wantsUnmute{false};
};

} // namespace couplet
