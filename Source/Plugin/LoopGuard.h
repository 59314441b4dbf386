// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/StrongestLine.h"

#include <array>
#include <atomic>
#include <cstddef>
#include <memory>
#include <vector>

// Purpose: finds a loop that rises: one line that grows by 20 dB/s or more for 0.5 s and stands above -12 dBFS. Then the
//          output must be muted, and stays so until someone has broken the loop and says so. A loop that is at full
//          scale before that: one line that rose by 10 dB or more, at 20 dB/s or more, over two hops in a row or more,
//          and a tenth of whose samples stand at full scale before 0.2 s have passed since.
// Shapes:  blocks of any size, one or two channels, each judged for itself, every 50 ms; what that takes is spread over
//          the quarter of a hop behind it, so that no callback bears it alone.
// Ranges:  a tone that is suddenly there, within 50 ms, is no loop, clipped or not; so one that takes less than some 0.1 s
//          from the noise to full scale may be passed over. A calibrator that is pressed on the microphone and does not
//          clip is none either. A loop of several lines of like strength is found by neither rule.
// Source:  both rules are of this product (docs/method.md, When a microphone hears itself). A line holds most of the
//          power (see StrongestLine).
// Thread:  add: audio. prepare: any but audio, also while audio runs (blocks that come meanwhile pass unwatched).
//          muted and unmute: any. No lock.
namespace couplet {

class LoopGuard
{
public:
    void prepare(double sampleRate_Hz); // keeps a mute
    void add(const float* const* channels, int channelCount, int samples) noexcept;

    bool muted() const noexcept { return isMuted.load(std::memory_order_relaxed); }
    // The loop was broken: watch anew.
    void unmute() noexcept { wantsUnmute.store(true, std::memory_order_release); }

private:
    static constexpr std::size_t channelsWatched = 2;
    static constexpr int stepsOfRise = 10; // of 50 ms
    static constexpr int hopsWatched = 4;  // after a rise

    struct Channel
    {
        std::unique_ptr<StrongestLine> line;
        std::vector<float> newest; // the newest samples, as many as are looked at
        std::size_t next = 0;      // where the oldest of them is
        std::array<double, stepsOfRise + 1> levels_dBFS{};
        int steps = 0;          // in a row with the same line rising, and the hop that it rose from
        int watched = 0;        // hops still to be watched for full scale, after a rise
        bool isLouder = false;  // the hop that is being looked at, than the one before
        std::size_t roseAt = 0; // bin of that rise
        std::size_t bin = 0;
        double total = 0.0, squares = 0.0; // of the hop so far
        double power = 0.0;                // of the hop before
    };

    void watch(const float* const* channels, int channelCount, int samples) noexcept;
    void forget() noexcept;
    static void sum(Channel&, const float* samples, int count) noexcept;
    bool hasRisen(Channel&) const noexcept;
    void endHop(Channel&) noexcept;
    void work(Channel&, std::size_t most) noexcept;
    void judge(Channel&, const StrongestLine::Line&) noexcept;
    static bool isSaturated(Channel&, const StrongestLine::Line&) noexcept;

    std::atomic_flag busy; // held for a block or while preparing; of the next five
    std::array<Channel, channelsWatched> channels;
    int hopSamples = 0, filled = 0;
    std::size_t stepsPerSample = 0;
    double step_s = 0.05;
    std::atomic<bool> isMuted{false}, wantsUnmute{false};
};

} // namespace couplet
