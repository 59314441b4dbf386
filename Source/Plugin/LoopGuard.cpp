// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LoopGuard.h"

#include "Plugin/Held.h"
#include "Quantities/Decibels.h"
#include "Signal/Sizes.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace couplet {
namespace {

// Rules of this product: docs/method.md, When a microphone hears itself.
constexpr double steepestAllowed_dBPerSecond = 20.0;
constexpr double loudestAllowed_dBFS = -12.0;
// Every step must rise, by half of its share at least: what has ended rising is no loop (no source).
constexpr double shareOfStep = 0.5;

// A loop that is at full scale sooner. A tone that is suddenly there rises once; a calibrator that is pressed on does not
// clip, and a knock that fills a tenth of a hop holds as much power as its tone (no source).
constexpr double leastRise_dB = 10.0;
constexpr int fewestRises = 2;
constexpr double leastAtFullScale = 0.1;

// The share of all power that makes a line the only thing to speak of (no source).
constexpr double shareOfLine = 0.5;
// A line of that share that rises by half a decibel makes the whole rise by 6 %. What has not risen by half of that needs
// no spectrum: a steady tone costs nothing but its power.
constexpr double leastRise = 1.03;

constexpr double usualRate_Hz = 48000.0; // what a rate that is no number is taken for: the guard watches all the same
constexpr std::size_t partOfHop = 4;     // a stretch is worked off within a quarter of the next hop

bool areSame(std::size_t bin, std::size_t other)
{
    return std::max(bin, other) - std::min(bin, other) <= 1;
}

} // namespace

void LoopGuard::prepare(double sampleRate_Hz)
{
    const double rate_Hz =
        std::isnan(sampleRate_Hz) ? usualRate_Hz : std::clamp(sampleRate_Hz, lowestRate_Hz, highestRate_Hz);
    const int newHop = hopLength(rate_Hz);
    const auto length = std::bit_floor(static_cast<std::size_t>(newHop));
    std::array<Channel, channelsWatched> fresh;
    for (Channel& channel : fresh) {
        channel.newest.assign(length, 0.0f);
        channel.line = std::make_unique<StrongestLine>(length);
    }
    const std::size_t newSteps = partOfHop * fresh[0].line->steps() / static_cast<std::size_t>(newHop) + 1;
    const Held held(busy); // what was swapped out is freed after it, on this thread
    channels.swap(fresh);
    hopSamples = newHop;
    filled = 0;
    stepsPerSample = newSteps;
    step_s = newHop / rate_Hz;
}

void LoopGuard::forget() noexcept
{
    filled = 0;
    for (Channel& channel : channels) {
        std::fill(channel.newest.begin(), channel.newest.end(), 0.0f);
        if (channel.line != nullptr)
            channel.line->giveUp();
        channel.next = 0;
        channel.steps = channel.watched = 0;
        channel.total = channel.squares = channel.power = 0.0;
    }
}

void LoopGuard::add(const float* const* inputs, int channelCount, int samples) noexcept
{
    if (busy.test_and_set(std::memory_order_acquire))
        return;
    watch(inputs, channelCount, samples);
    busy.clear(std::memory_order_release);
}

void LoopGuard::watch(const float* const* inputs, int channelCount, int samples) noexcept
{
    if (wantsUnmute.load(std::memory_order_relaxed) && wantsUnmute.exchange(false, std::memory_order_acquire)) {
        isMuted.store(false, std::memory_order_relaxed);
        forget();
    }
    if (hopSamples == 0)
        return;
    const auto count = std::min(static_cast<std::size_t>(std::max(channelCount, 0)), channelsWatched);
    for (int done = 0; done < samples;) {
        const int take = std::min(hopSamples - filled, samples - done);
        for (std::size_t c = 0; c < count; ++c) {
            Channel& channel = channels[c];
            const float* from = inputs[c] + done;
            sum(channel, from, take);
            for (int left = take; left > 0;) {
                const auto room = static_cast<int>(channel.newest.size() - channel.next);
                const int here = std::min(left, room);
                std::copy(from, from + here, channel.newest.begin() + static_cast<std::ptrdiff_t>(channel.next));
                channel.next = (channel.next + static_cast<std::size_t>(here)) % channel.newest.size();
                from += here;
                left -= here;
            }
        }
        for (std::size_t c = 0; c < count; ++c)
            work(channels[c], stepsPerSample * static_cast<std::size_t>(take));
        filled += take;
        done += take;
        if (filled == hopSamples) {
            filled = 0;
            for (std::size_t c = 0; c < count; ++c)
                endHop(channels[c]);
        }
    }
}

// A hop is at least as long as what is looked at: by its end the ring holds nothing but its own samples.
void LoopGuard::endHop(Channel& channel) noexcept
{
    while (channel.line->isBusy()) // only blocks of nearly a hop leave anything
        work(channel, channel.line->steps());
    channel.isLouder = hasRisen(channel);
    if (!channel.isLouder)
        channel.steps = 0;
    if (channel.isLouder || channel.watched > 0)
        channel.line->begin(channel.newest, channel.next);
}

void LoopGuard::work(Channel& channel, std::size_t most) noexcept
{
    if (!channel.line->isBusy())
        return;
    if (const auto line = channel.line->work(most))
        judge(channel, *line);
}

// In lanes of four, which the processor adds side by side.
void LoopGuard::sum(Channel& channel, const float* samples, int count) noexcept
{
    constexpr int lanes = 4;
    std::array<double, lanes> total{}, squares{};
    int i = 0;
    for (; i + lanes <= count; i += lanes)
        for (int lane = 0; lane < lanes; ++lane) {
            const auto x = static_cast<double>(samples[i + lane]);
            total[static_cast<std::size_t>(lane)] += x;
            squares[static_cast<std::size_t>(lane)] += x * x;
        }
    for (; i < count; ++i) {
        const auto x = static_cast<double>(samples[i]);
        total[0] += x;
        squares[0] += x * x;
    }
    channel.total += (total[0] + total[1]) + (total[2] + total[3]);
    channel.squares += (squares[0] + squares[1]) + (squares[2] + squares[3]);
}

// The power of the hop that ends, its mean taken out, against the one before.
bool LoopGuard::hasRisen(Channel& channel) const noexcept
{
    const double before = channel.power, mean = channel.total / hopSamples;
    channel.power = channel.squares / hopSamples - mean * mean;
    channel.total = channel.squares = 0.0;
    return channel.power > leastRise * before;
}

void LoopGuard::judge(Channel& channel, const StrongestLine::Line& line) noexcept
{
    const double amplitude = line.amplitude;
    const bool isLine = line.share > shareOfLine && amplitude > 0.0 && std::isfinite(amplitude);
    const double level_dBFS = isLine ? decibels(amplitude) : 0.0;
    const bool rises = isLine && channel.steps > 0 && areSame(line.bin, channel.bin) &&
                       level_dBFS - channel.levels_dBFS.back() >= shareOfStep * steepestAllowed_dBPerSecond * step_s;
    channel.bin = line.bin;
    channel.steps = rises ? std::min(channel.steps + 1, stepsOfRise + 1) : isLine && channel.isLouder ? 1 : 0;
    std::rotate(channel.levels_dBFS.begin(), channel.levels_dBFS.begin() + 1, channel.levels_dBFS.end());
    channel.levels_dBFS.back() = level_dBFS;

    const double rise_dB = channel.levels_dBFS.back() - channel.levels_dBFS.front();
    const bool isLoud = channel.steps > stepsOfRise && rise_dB >= steepestAllowed_dBPerSecond * stepsOfRise * step_s &&
                        level_dBFS > loudestAllowed_dBFS;
    if (isSaturated(channel, line) || isLoud)
        isMuted.store(true, std::memory_order_relaxed);
}

// A line at full scale rises no more: it is looked at for some hops after each one with a rise of its size behind it.
bool LoopGuard::isSaturated(Channel& channel, const StrongestLine::Line& line) noexcept
{
    const int rises = channel.steps - 1;
    const auto from = channel.levels_dBFS.rbegin() + std::max(rises, 0);
    const double rise_dB = channel.levels_dBFS.back() - *from;
    if (rises >= fewestRises && rise_dB >= leastRise_dB) { // over ten hops at most: by 20 dB/s or more
        channel.watched = hopsWatched;
        channel.roseAt = line.bin;
    }
    else if (channel.watched > 0) {
        --channel.watched;
    }
    else {
        return false;
    }
    return line.share > shareOfLine && areSame(line.bin, channel.roseAt) && line.full >= leastAtFullScale;
}

} // namespace couplet
