// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/StretchFinder.h"

#include "Quantities/Decibels.h"
#include "Signal/Sound.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace couplet {
namespace {

// A hop before a disturbance and three after it are passed over.
constexpr std::size_t hopsBefore = 1;
constexpr int hopsAfter = 3;
constexpr double shortestTake_s = 0.75;
constexpr int hopsToBegin = 6;
constexpr int shortestStretch = 10; // hops, half a second: a shorter one is luck in a level that keeps changing
constexpr int hopsToSettle = 12;    // 20 Hz high-pass after a tone has just been found: 0.6 s

constexpr double fast_s = 0.125; // IEC 61672-1
constexpr int hopsOfFast = 10;   // until it has forgotten where it began: four time constants

constexpr double leastDc = 1e-7; // -140 dBFS, below the last bit of 24

double level(double amplitude)
{
    return decibels(amplitude);
}

} // namespace

StretchFinder::Hop StretchFinder::hopOf(const Estimate& e, double time_s)
{
    Hop h;
    h.time_s = time_s;
    h.amplitude = e.tone.hopAmplitude;
    h.frequency_Hz = e.tone.frequency_Hz;
    // A frequency's variance falls with the cube of the window (Cramer-Rao).
    h.frequencyWeight = std::pow(e.tone.window_s, 3.0);
    h.dc = e.tone.dc;
    h.noise = e.noisePower;
    h.noiseA = e.noisePowerA;
    for (const double harmonic : e.tone.harmonics)
        h.harmonics += harmonic * harmonic;
    h.hum = e.tone.mainsAmplitude * e.tone.mainsAmplitude;
    h.humHz = e.tone.mainsFrequency_Hz;
    h.humBound = e.tone.mainsBound;
    const double second = magnitude(e.secondTone);
    h.second = second * second;
    h.secondPower = e.secondPower;
    h.secondPeak = e.secondPeak;
    h.secondGood = !e.secondBroken;
    h.held = e.tone.held();
    h.restarted = e.tone.restarted;
    h.modulated = e.tone.modulated;
    const bool jumped = e.tone.restarted && !e.tone.unbroken; // else it only wobbles
    h.good = e.tone.held() && !jumped && !e.disturbed && !e.broken && h.amplitude > 0.0;
    return h;
}

// The tone's power under F; after a disturbance it begins with what is there.
void StretchFinder::follow(Hop& hop, const ToneEstimate& tone)
{
    if (!hop.good)
        fast = 0.0;
    const double share = -std::expm1(-hop_s / partsOfHop / fast_s);
    for (std::size_t i = 0; i < hop.fast.size(); ++i) {
        const double power = tone.powers[i];
        fast = fast > 0.0 ? fast + share * (power - fast) : hop.amplitude * hop.amplitude;
        hop.fast[i] = fast;
    }
}

void StretchFinder::add(const Estimate& e)
{
    ++hops;
    hop_s = e.hop_s;
    last = e;
    watch.add(e);
    take.add(e);
    beginning.add(e);
    dc += e.tone.dc;
    if (hops > hopsToSettle) {
        noise += e.noisePower;
        noiseA += e.noisePowerA;
    }
    hum += e.tone.mainsAmplitude * e.tone.mainsAmplitude;
    const auto reason = static_cast<std::size_t>(e.tone.reason);
    ++reasons[reason];
    examples[reason] = e.tone;

    Hop hop = hopOf(e, static_cast<double>(e.hop) * e.hop_s);
    follow(hop, e.tone);
    if (!hop.good)
        for (auto h = waiting.rbegin(); h != waiting.rend() && h < waiting.rbegin() + hopsBefore; ++h)
            h->good = false;
    waiting.push_back(hop);
    judgeNewest();
    while (waiting.size() > hopsWaiting) {
        settle(waiting.front());
        waiting.pop_front();
    }
}

void StretchFinder::settle(const Hop& h)
{
    if (!h.good) {
        if (run.hops > 0)
            endRun();
        justFound = justFound || !h.held;
        guard = hadRun ? hopsAfter : 0;
        return;
    }
    if (guard > 0) {
        --guard;
        return;
    }
    hadRun = true;
    if (run.hops == 0) {
        run.start_s = h.time_s - hop_s;
        run.begins = std::exchange(justFound, false);
    }
    ++run.hops;
    run.power += h.amplitude * h.amplitude;
    run.meanFrequency += h.frequency_Hz;
    run.restarts += h.restarted ? 1 : 0;
    run.modulated += h.modulated ? 1 : 0;
    run.frequency += h.frequencyWeight * h.frequency_Hz;
    run.frequencyWeight += h.frequencyWeight;
    run.dc += h.dc;
    if (run.hops == hopsToSettle) // what was counted until now held the filters' own ringing
        run.noise = run.noiseA = run.quietHops = 0;
    run.noise += h.noise;
    run.noiseA += h.noiseA;
    ++run.quietHops;
    run.harmonics += h.harmonics;
    run.hum += h.hum;
    run.humHz += h.humHz;
    run.humBound = std::max(run.humBound, h.humBound / h.amplitude);
    if (h.secondGood) {
        run.secondLowest = run.secondHops == 0 ? h.second : std::min(run.secondLowest, h.second);
        run.secondHighest = std::max(run.secondHighest, h.second);
        run.second += h.second;
        run.secondPower += h.secondPower;
        run.secondPeak = std::max(run.secondPeak, h.secondPeak);
        ++run.secondHops;
    }
    if (run.hops == 1)
        run.origin = level(h.amplitude);
    const double t = h.time_s - run.start_s, y = level(h.amplitude) - run.origin;
    run.t += t;
    run.tt += t * t;
    run.y += y;
    run.ty += t * y;
    run.yy += y * y;
    if (run.hops == hopsOfFast) // what was counted until now still held where it began
        run.levels = 0;
    if (run.hops >= 3)
        addLevels(run, h);
}

void StretchFinder::addLevels(Run& r, const Hop& h)
{
    if (r.levels == 0)
        r.sum = r.squares = 0.0;
    for (const double power : h.fast) {
        const double y = decibelsOfPower(power) - r.origin;
        r.lowest = r.levels == 0 ? y : std::min(r.lowest, y);
        r.highest = r.levels == 0 ? y : std::max(r.highest, y);
        ++r.levels;
        r.sum += y;
        r.squares += y * y;
    }
}

void StretchFinder::endRun()
{
    if (!run.begins || run.hops >= hopsToBegin) // a tone that has just been found may still have to be looked at anew
        ++disturbances;
    if (run.hops > longest.hops)
        longest = run;
    run = {};
}

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
        s.headroom_dB = headroomOf(last.peak);
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
    const double amplitude = std::sqrt(r.power / n);
    s.level_dBFS = decibels(amplitude);
    s.wobbles = r.restarts > 1 || r.modulated > 0;
    // Windows of a tone that wobbles are as long as its speed happens to stay the same.
    s.frequency = Hertz(s.wobbles ? r.meanFrequency / n : r.frequency / r.frequencyWeight);
    s.stretch_s = n * hop_s;
    s.start_s = r.start_s;
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

} // namespace couplet
