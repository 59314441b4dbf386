// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/DropOutWatch.h"
#include "Signal/Estimate.h"
#include "Signal/NoiseMeter.h"
#include "Signal/ToneTracker.h"

#include <algorithm>
#include <array>

// Purpose: one microphone channel and, beside it, a second one at the same tone: samples in, an Estimate every 50 ms,
//          with a hop's last chunk or up to half a hop later while the tone may have changed.
// Shapes:  blocks of any size, mono float, full scale = 1; `second` may be null.
// Ranges:  sample rate 8 to 384 kHz, window 0.1 to 10 s. Samples that are not finite, or more than 120 dB above full
//          scale, count as 0 and are told.
// Thread:  audio after construction, which allocates; no locks, no exceptions. The same samples give the same bits
//          however they are cut into blocks.
namespace couplet {

class Analyser
{
public:
    explicit Analyser(double sampleRate_Hz, double window_s = 1.0);

    // Calls `publish(const Estimate&)` for each hop that ends within the block.
    template <class Publish> void add(const float* microphone, const float* second, int samples, Publish&& publish);

    // At a stream's end: publishes the estimate of the last whole hop when it is still being worked on.
    template <class Publish> void finish(Publish&& publish);

    const Estimate& latest() const { return estimate; }
    // The levels until now, the hop that has not ended included.
    const std::array<BroadbandLevels, weightings>& levels() const { return broadband.levels(); }
    double heard_s() const { return broadband.duration_s(); }
    void restart();
    // Right after construction or a restart: the stream stood at this constant before it began (a take's mean), so that
    // the broadband levels count from its first sample on. Else they wait until the constant has been heard, 0.25 s.
    void expectConstant(double constant);
    // What the broadband levels have counted counts anew, from the next chunk on; the tone is not touched.
    void restartLevels() { broadband.restartCounts(); }

private:
    bool chunkDone();
    void endHop();
    void complete();
    void countPeaks();
    void addSecond();
    static std::int64_t makeSound(std::array<float, chunkLength>&);
    void weigh(const FoldedChunk&, double total, double power);

    ToneTracker tracker;
    StreamFilters filters;
    NoiseMeter noise;
    BroadbandMeter broadband;
    DropOutWatch dropOuts;
    Estimate gathered; // of the hop that is under way
    Estimate waiting;  // of the one before, which may wait for its tone
    Estimate estimate; // the last that was published

    std::array<float, chunkLength> first{}, other{};
    int filled = 0;
    bool hasSecond = false;
    Phasor secondSum;
    double secondTotal = 0.0, secondSquares = 0.0, secondPeak = 0.0; // of the hop
    int run = 0; // of samples at full scale; no more are counted than make it clipped
    float runLevel = 0.0f;
    float lowest = 0.0f, highest = 0.0f;            // of the chunk
    int chunksToSettle, settled = 0;                // chunks: until the levels count
    double constantSum = 0.0, constantWeight = 0.0; // heard so far
};

template <class Publish>
void Analyser::add(const float* microphone, const float* second, int samples, Publish&& publish)
{
    for (int i = 0; i < samples;) {
        const int take = std::min(chunkLength - filled, samples - i);
        std::copy(microphone + i, microphone + i + take, first.begin() + filled);
        if (second != nullptr)
            std::copy(second + i, second + i + take, other.begin() + filled);
        else
            std::fill(other.begin() + filled, other.begin() + filled + take, 0.0f);
        hasSecond = second != nullptr;
        filled += take;
        i += take;
        if (filled == chunkLength) {
            filled = 0;
            if (chunkDone())
                publish(static_cast<const Estimate&>(estimate));
        }
    }
}

template <class Publish> void Analyser::finish(Publish&& publish)
{
    if (tracker.isPending()) {
        tracker.finish();
        complete();
        publish(static_cast<const Estimate&>(estimate));
    }
}

} // namespace couplet
