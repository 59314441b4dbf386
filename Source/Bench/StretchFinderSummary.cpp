// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/StretchFinder.h"
#include "Quantities/Decibels.h"
#include "Signal/Sound.h"

#include <algorithm>
#include <cmath>
#include <utility>

// What a stretch says of its tone, and a take without one of its noise.
namespace couplet {
namespace {

constexpr double shortestTake_s = 0.75;
constexpr int shortestStretch = 10; // hops, half a second: a shorter one is luck in a level that keeps changing

constexpr double leastDc = 1e-7; // -140 dBFS, below the last bit of 24

} // namespace

StretchFinder StretchFinder::finished() const
{
    StretchFinder rest = *this;
    for (const Hop& h : waiting)
        rest.settle(h);
    return rest;
}

ToneSummary StretchFinder::summary() const
{
    const StretchFinder rest = finished();
    return summaryOf(rest.run.hops > rest.longest.hops ? rest.run : rest.longest, rest, shortestStretch);
}

ToneSummary StretchFinder::newest() const
{
    const StretchFinder rest = finished();
    return summaryOf(rest.run, rest, 3);
}

ToneSummary StretchFinder::summaryOf(const Run& r, const StretchFinder& rest, int fewestHops) const
{
    ToneSummary s;
    s.sampleRate_Hz = last.sampleRate_Hz;
    s.duration_s = static_cast<double>(last.hop) * last.hop_s; // those of the levels may begin anew
    s.clippedSamples = last.clippedSamples;
    s.brokenSamples = last.brokenSamples;
    s.brokenSecondSamples = last.brokenSecondSamples;
    s.disturbances = rest.disturbances;
    s.breaks = watch.breaks();
    s.onset = beginning.onset();
    if (last.peak > 0.0)
        s.headroom_dB = s.wholeHeadroom_dB = headroomOf(last.peak);
    const auto dBFS = [](double meanSquare) {
        return meanSquare > 0.0 ? std::optional(decibelsOfPower(2.0 * meanSquare)) : std::nullopt;
    };
    const bool tone = r.hops >= fewestHops && r.levels > 0;
    const double n = tone ? r.hops : static_cast<double>(hops);
    if (n <= 0.0 || (!tone && s.duration_s < shortestTake_s)) {
        s.whyNoLevel = "the take is too short: three quarters of a second are needed to find a tone and measure it";
        return s;
    }
    const double meanDc = (tone ? r.dc : dc) / n, meanHum = (tone ? r.hum : hum) / n;
    const double noiseHops = tone ? r.quietHops : std::max(1.0, n - hopsToSettle);
    const double meanNoise = (tone ? r.noise : noise) / noiseHops;
    if (std::abs(meanDc) > leastDc)
        s.dc_dBFS = decibels(std::abs(meanDc));
    s.noise_dBFS = dBFS(meanNoise);
    s.noiseA_dBFS = dBFS((tone ? r.noiseA : noiseA) / noiseHops);
    s.hum_dBFS = dBFS(0.5 * meanHum);
    if (s.hum_dBFS)
        s.hum = Hertz(tone ? r.humHz / n : last.tone.mainsFrequency_Hz);
    if (!tone) {
        // The reason that held longest, but for a tone that was there and never undisturbed.
        const auto most = std::max_element(reasons.begin() + 1, reasons.end());
        const auto reason = static_cast<NoTone>(most - reasons.begin());
        s.whyNoLevel = reasons[0] > *most
                           ? "the tone was never undisturbed for half a second: its level or frequency kept "
                             "changing, or the bench was knocked; keep both still and take it again"
                           : whyNoTone(reason, examples[static_cast<std::size_t>(reason)]);
        if (auto moving = take.movingTone(); !moving.empty())
            s.whyNoLevel = std::move(moving);
        return s;
    }
    tellPeaks(s, r, fewestHops < shortestStretch);
    const double amplitude = std::sqrt(r.power / n);
    s.level_dBFS = decibels(amplitude);
    s.wobbles = r.restarts > 1 || r.modulated > 0;
    // Windows of a tone that wobbles are as long as its speed happens to stay the same.
    s.frequency = Hertz(s.wobbles ? r.meanFrequency / n : r.frequency / r.frequencyWeight);
    s.stretch_s = n * hop_s;
    s.start_s = r.start_s;
    s.begins = r.begins && fewestHops >= shortestStretch;
    const double mean = r.sum / r.levels;
    s.steadiness_dB = std::max(r.highest - mean, mean - r.lowest);
    s.scatter_dB = std::sqrt(std::max(0.0, r.squares / r.levels - mean * mean));
    const double spread = r.tt - r.t * r.t / n;
    if (r.hops > 2 && spread > 0.0) {
        s.slope_dBPerSecond = (r.ty - r.t * r.y / n) / spread;
        const double left = r.yy - r.y * r.y / n - s.slope_dBPerSecond * s.slope_dBPerSecond * spread;
        s.slopeU_dBPerSecond = std::sqrt(std::max(0.0, left) / (n - 2.0) / spread);
    }
    const double tonePower = amplitude * amplitude / 2.0, harmonicPower = r.harmonics / n / 2.0;
    const double others = harmonicPower + meanHum / 2.0 + meanNoise;
    // Without room for the second order below Nyquist there is nothing to know of it.
    if (2.0 * s.frequency->value < 0.5 * highestShareOfNyquist * s.sampleRate_Hz)
        s.distortion_percent = 100.0 * std::sqrt(harmonicPower / tonePower);
    s.thirdInPhase = r.third / n;
    s.distortionAndNoise_percent = 100.0 * std::sqrt(others / (tonePower + others));
    s.humBound_dB = decibels(1.0 + r.humBound);
    if (r.secondHops > 0)
        s.second_dBFS = dBFS(0.5 * r.second / r.secondHops);
    if (s.second_dBFS && r.secondPower > 0.0)
        s.secondShare = std::min(1.0, 0.5 * r.second / r.secondPower);
    if (r.secondLowest > 0.0)
        s.secondSpread_dB = 0.5 * decibelsOfPower(r.secondHighest / r.secondLowest);
    s.secondClipped = r.secondPeak >= static_cast<double>(converterFullScale);
    s.flaws = take.flaws(usedStretch(s, fewestHops < shortestStretch));
    return s;
}

// What counts is the stretch that is used. Of a take, what was clipped elsewhere is told besides, or with it.
void StretchFinder::tellPeaks(ToneSummary& s, const Run& r, bool live) const
{
    if (live || r.clipped == 0)
        s.clippedSamples = r.clipped;
    s.headroom_dB = r.peak > 0.0 ? std::optional(headroomOf(r.peak)) : std::nullopt;
    if (live) {
        s.wholeHeadroom_dB.reset();
        return;
    }
    s.clippedElsewhere = last.clippedSamples - s.clippedSamples;
    if (s.clippedElsewhere > 0)
        s.clippedElsewhere_s = *firstClipped_s < r.start_s ? *firstClipped_s : lastClipped_s;
}

} // namespace couplet
