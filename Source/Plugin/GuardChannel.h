// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LineTurns.h"
#include "Plugin/StrongestLine.h"

#include <array>
#include <cstddef>
#include <memory>
#include <vector>

// Purpose: one channel as the loop guard watches it: its level every 5 ms, whether it has been loud and held long enough
//          to be asked about, what was already found to be no loop, and its strongest line while it is loud.
// Units:   levels in dBFS of a sine of the same power, over two frames; a constant is taken out.
// Source:  rules of this product: docs/method.md, When a microphone hears itself.
// Thread:  audio; prepare: any but audio.
namespace couplet {

class GuardChannel
{
public:
    enum class Suspicion { none, tonal, dense, full };

    void prepare(double sampleRate_Hz, int frameSamples);
    void forget() noexcept;
    void letDown() noexcept; // what held so far counts no more

    void add(const float* samples, int count, bool keepsThem) noexcept;
    void endFrame(double now_s) noexcept; // the frame is complete
    Suspicion suspicion(double now_s) noexcept;
    void trust(double level_dBFS, double now_s) noexcept;

    double level_dBFS() const noexcept; // of two frames
    double levelBefore_dBFS(int frames) const noexcept;
    double wideLevel_dBFS() const noexcept; // of ten
    const LineTurns& line() const noexcept { return turns; }
    bool waitsForLine() const noexcept { return strongest && strongest->isBusy(); }

    // What sounded last, the oldest first, `echoSamples` of them; none above full scale.
    float kept(std::size_t i) const noexcept;
    std::size_t echoSamples() const noexcept { return echo; }
    double keptLevel_dBFS() const noexcept;

private:
    static constexpr int framesKept = 64;

    double powerBefore(int frames) const noexcept;
    void watchLine(double now_s) noexcept;
    bool isTrusted(double now_s) const noexcept;
    double crest_dB(int frames, double power) const noexcept;

    std::array<double, framesKept> powers{};
    std::array<float, framesKept> highs{}, lows{};
    std::vector<float> ring, looked;
    std::size_t next = 0, echo = 1;
    std::unique_ptr<StrongestLine> strongest;
    LineTurns turns;
    double rate_Hz = 48000.0, sum = 0.0, squares = 0.0;
    float high = 0.0f, low = 0.0f;
    int frame = 240, at = 0, full = 0, early = 0, held = 0, dense = 0, lasting = 0, fulls = 0;
    std::size_t stepsPerSample = 1;
    double ceiling_dBFS = -400.0, trustedUntil_s = -1.0, stoodAt_s = -1.0, trust_s = 0.0;
    bool trustsFull = false;
};

} // namespace couplet
