// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/GuardChannel.h"

#include "Quantities/Decibels.h"
#include "Signal/Sizes.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace couplet {
namespace {

// Rules of this product: docs/method.md, When a microphone hears itself. Frames are of 5 ms.
constexpr double tonal_dBFS = -14.0, tonalCrest_dB = 5.0, tonalFall_dB = 1.5;
constexpr double dense_dBFS = -13.0, denseCrest_dB = 9.5, denseFall_dB = 2.0;
constexpr int earlyFrames = 2, searchEvery = 20, tonalFrames = 12, denseFrames = 24, lastingFrames = 80,
              wideFrames = 10;
constexpr float atFullScale = 0.97f;
constexpr double shareAtFullScale = 0.1;
constexpr int fullFrames = 20; // one without counts half a frame back
constexpr double echo_s = 0.030;
constexpr double leastShareOfLine = 0.3;

constexpr double trustAbove_dB = 6.0, trustBelow_dB = 6.0;
constexpr double stands_s = 0.25, trustFirst_s = 10.0, trustMost_s = 80.0;

const double tonalPower = 0.5 * powerRatioFrom_dB(tonal_dBFS), densePower = 0.5 * powerRatioFrom_dB(dense_dBFS);

double levelOf(double power)
{
    return decibelsOfPower(2.0 * power + 1e-20);
}

} // namespace

void GuardChannel::prepare(double sampleRate_Hz, int frameSamples)
{
    rate_Hz = sampleRate_Hz;
    frame = frameSamples;
    echo = static_cast<std::size_t>(echo_s * rate_Hz) + 1;
    const auto length = std::bit_floor(static_cast<std::size_t>(hopLength(rate_Hz)));
    strongest = std::make_unique<StrongestLine>(length);
    looked.assign(length, 0.0f);
    ring.assign(std::max(length, echo), 0.0f);
    stepsPerSample = 4 * strongest->steps() / static_cast<std::size_t>(hopLength(rate_Hz)) + 1;
    forget();
}

void GuardChannel::forget() noexcept
{
    std::fill(ring.begin(), ring.end(), 0.0f);
    powers.fill(0.0);
    highs.fill(0.0f);
    lows.fill(0.0f);
    sum = squares = 0.0;
    high = low = 0.0f;
    full = 0;
    ceiling_dBFS = -400.0;
    trustedUntil_s = stoodAt_s = -1.0;
    trust_s = trustFirst_s;
    trustsFull = false;
    letDown();
}

void GuardChannel::letDown() noexcept
{
    early = held = dense = lasting = fulls = 0;
    turns.stop();
    if (strongest)
        strongest->giveUp();
}

// In lanes, which the processor works side by side.
void GuardChannel::add(const float* samples, int count, bool keepsThem) noexcept
{
    constexpr int lanes = 4;
    float s[lanes] = {}, q[lanes] = {}, h[lanes] = {}, l[lanes] = {};
    int i = 0;
    for (; i + lanes <= count; i += lanes)
        for (int k = 0; k < lanes; ++k) {
            const float x = samples[i + k];
            s[k] += x;
            q[k] += x * x;
            h[k] = x > h[k] ? x : h[k];
            l[k] = x < l[k] ? x : l[k];
        }
    for (; i < count; ++i) {
        const float x = samples[i];
        s[0] += x;
        q[0] += x * x;
        h[0] = x > h[0] ? x : h[0];
        l[0] = x < l[0] ? x : l[0];
    }
    for (int k = 1; k < lanes; ++k) {
        s[0] += s[k];
        q[0] += q[k];
        h[0] = std::max(h[0], h[k]);
        l[0] = std::min(l[0], l[k]);
    }
    sum += static_cast<double>(s[0]);
    squares += static_cast<double>(q[0]);
    high = std::max(high, h[0]);
    low = std::min(low, l[0]);
    if (h[0] >= atFullScale || l[0] <= -atFullScale)
        full += static_cast<int>(
            std::count_if(samples, samples + count, [](float x) { return std::abs(x) >= atFullScale; }));
    if (turns.runs())
        turns.add(samples, count);
    if (strongest->isBusy())
        if (const auto line = strongest->work(stepsPerSample * static_cast<std::size_t>(count)))
            if (line->share >= leastShareOfLine)
                turns.begin(2.0 * pi * static_cast<double>(line->bin) / static_cast<double>(looked.size()), frame);
    if (!keepsThem)
        return;
    const auto n = std::min(static_cast<std::size_t>(count), ring.size());
    const float* from = samples + (static_cast<std::size_t>(count) - n);
    const std::size_t here = std::min(n, ring.size() - next);
    std::copy(from, from + here, ring.begin() + static_cast<std::ptrdiff_t>(next));
    std::copy(from + here, from + n, ring.begin());
    next = (next + n) % ring.size();
}

double GuardChannel::powerBefore(int frames) const noexcept
{
    return powers[static_cast<std::size_t>((at - frames + framesKept) % framesKept)];
}

double GuardChannel::level_dBFS() const noexcept
{
    return levelOf(0.5 * (powerBefore(0) + powerBefore(1)));
}

double GuardChannel::levelBefore_dBFS(int frames) const noexcept
{
    return levelOf(0.5 * (powerBefore(frames) + powerBefore(frames + 1)));
}

double GuardChannel::wideLevel_dBFS() const noexcept
{
    double power = 0.0;
    for (int k = 0; k < wideFrames; ++k)
        power += powerBefore(k) / wideFrames;
    return levelOf(power);
}

// Half of what lies between the highest and the lowest sample, so that a constant is no peak.
double GuardChannel::crest_dB(int frames, double power) const noexcept
{
    float top = -1e30f, bottom = 1e30f;
    for (int k = 0; k < frames; ++k) {
        const auto i = static_cast<std::size_t>((at - k + framesKept) % framesKept);
        top = std::max(top, highs[i]);
        bottom = std::min(bottom, lows[i]);
    }
    const double half = 0.5 * (static_cast<double>(top) - static_cast<double>(bottom));
    return decibelsOfPower(half * half / (power + 1e-20));
}

void GuardChannel::endFrame(double now_s) noexcept
{
    at = (at + 1) % framesKept;
    const auto i = static_cast<std::size_t>(at);
    const double mean = sum / frame, power = squares / frame - mean * mean;
    powers[i] = std::isfinite(power) ? std::max(0.0, power) : 0.0;
    highs[i] = high;
    lows[i] = low;
    fulls = full >= shareAtFullScale * frame ? fulls + 2 : std::max(0, fulls - 1);
    sum = squares = 0.0;
    high = low = 0.0f;
    full = 0;
    if (turns.runs())
        turns.endFrame();

    const double two = 0.5 * (powers[i] + powerBefore(1));
    bool isHeld = two > tonalPower && crest_dB(2, two) < tonalCrest_dB;
    for (int k = 1; isHeld && k < tonalFrames; ++k)
        isHeld = two > powerRatioFrom_dB(-tonalFall_dB) * 0.5 * (powerBefore(k) + powerBefore(k + 1));
    held = isHeld ? held + 1 : 0;

    double wide = 0.0, widest = 0.0;
    for (int k = 0; k < wideFrames; ++k)
        wide += powerBefore(k) / wideFrames;
    if (wide > densePower && crest_dB(wideFrames, wide) < denseCrest_dB) {
        double moving = wide;
        for (int k = 1; k < denseFrames; ++k) {
            moving += (powerBefore(k + wideFrames - 1) - powerBefore(k - 1)) / wideFrames;
            widest = std::max(widest, moving);
        }
        dense = wide > powerRatioFrom_dB(-denseFall_dB) * widest ? dense + 1 : 0;
    }
    else {
        dense = 0;
    }
    lasting = wide > densePower ? lasting + 1 : std::max(0, lasting - 1);
    if (now_s >= trustedUntil_s && now_s - stoodAt_s >= stands_s)
        ceiling_dBFS = -400.0; // trusted no more, whatever stands from now on
    if ((held > 0 || dense > 0) && levelOf(two) > ceiling_dBFS - trustAbove_dB - trustBelow_dB)
        stoodAt_s = now_s;
    watchLine(now_s);
}

void GuardChannel::watchLine(double now_s) noexcept
{
    // What is trusted needs no line: a calibrator that stands costs no more than silence.
    const bool isLoud = (held > 0 || dense > 0 || fulls > 0) && !isTrusted(now_s);
    early = isLoud ? early + 1 : 0;
    if (!isLoud && turns.runs())
        return; // whoever asks still needs it
    if (early % searchEvery != earlyFrames || turns.runs() || strongest->isBusy())
        return;
    const std::size_t length = looked.size(), first = next + ring.size() - length;
    for (std::size_t k = 0; k < length; ++k)
        looked[k] = ring[(first + k) % ring.size()];
    strongest->begin(looked, 0);
}

GuardChannel::Suspicion GuardChannel::suspicion(double now_s) noexcept
{
    const bool isFull = fulls >= 2 * fullFrames;
    const Suspicion found = held >= tonalFrames        ? Suspicion::tonal
                            : dense >= denseFrames     ? Suspicion::dense
                            : lasting >= lastingFrames ? Suspicion::dense
                            : isFull                   ? Suspicion::full
                                                       : Suspicion::none;
    if (found == Suspicion::none)
        return found;
    return isTrusted(now_s) ? Suspicion::none : found;
}

bool GuardChannel::isTrusted(double now_s) const noexcept
{
    const bool stands = now_s < trustedUntil_s || now_s - stoodAt_s < stands_s;
    const bool isFull = fulls >= 2 * fullFrames;
    return stands && (!isFull || trustsFull) && std::max(level_dBFS(), wideLevel_dBFS()) < ceiling_dBFS;
}

void GuardChannel::trust(double level, double now_s) noexcept
{
    const bool isFull = fulls >= 2 * fullFrames;
    const bool stood = now_s < trustedUntil_s;
    ceiling_dBFS = std::max(stood ? ceiling_dBFS : -400.0, level + trustAbove_dB);
    trustedUntil_s = now_s + trust_s;
    stoodAt_s = now_s;
    trust_s = std::min(2.0 * trust_s, trustMost_s);
    trustsFull = isFull || (stood && trustsFull);
    letDown();
}

float GuardChannel::kept(std::size_t i) const noexcept
{
    const float x = ring[(next + ring.size() - echo + i) % ring.size()];
    return std::isfinite(x) ? std::clamp(x, -1.0f, 1.0f) : 0.0f;
}

double GuardChannel::keptLevel_dBFS() const noexcept
{
    double power = 0.0;
    for (std::size_t i = 0; i < echo; ++i)
        power += static_cast<double>(kept(i)) * static_cast<double>(kept(i));
    return levelOf(power / static_cast<double>(echo));
}

} // namespace couplet
