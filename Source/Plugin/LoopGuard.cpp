// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LoopGuard.h"

#include "Plugin/Held.h"
#include "Quantities/Decibels.h"
#include "Signal/Sizes.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double usualRate_Hz = 48000.0; // what a rate that is no number is taken for: the guard watches all the same
constexpr double usualFrame_s = 0.005, fade_s = 0.002;

} // namespace

void LoopGuard::prepare(double sampleRate_Hz, int largestBlock)
{
    const double rate =
        std::isnan(sampleRate_Hz) ? usualRate_Hz : std::clamp(sampleRate_Hz, lowestRate_Hz, highestRate_Hz);
    const int newFrame = static_cast<int>(std::lround(usualFrame_s * rate));
    std::array<GuardChannel, channelsWatched> fresh;
    for (GuardChannel& channel : fresh)
        channel.prepare(rate, newFrame);
    const Held held(busy); // what was swapped out is freed after it, on this thread
    channels.swap(fresh);
    rate_Hz = rate;
    frame = newFrame;
    frame_s = newFrame / rate;
    block_s = std::max(0, largestBlock) / rate;
    fadeStep = static_cast<float>(1.0 / (fade_s * rate));
    echo = channels[0].echoSamples();
    startAnew();
    gain = target;
}

// Nothing that is under way goes on; a mute does.
void LoopGuard::startAnew() noexcept
{
    filled = 0;
    now_s = 0.0;
    doubts = strayTurns = waited = 0;
    pulseAt = echo;
    for (GuardChannel& channel : channels)
        channel.forget();
    enter(muted() ? State::muted : State::watching);
    target = muted() ? 0.0f : 1.0f;
}

void LoopGuard::process(float* const* audio, int channelCount, int samples) noexcept
{
    const auto count_ = std::min(static_cast<std::size_t>(std::max(channelCount, 0)), channelsWatched);
    if (busy.test_and_set(std::memory_order_acquire)) {
        if (muted())
            for (std::size_t c = 0; c < count_; ++c)
                std::fill_n(audio[c], samples, 0.0f);
        return;
    }
    if (wantsUnmute.load(std::memory_order_relaxed) && wantsUnmute.exchange(false, std::memory_order_acquire)) {
        isMuted.store(false, std::memory_order_relaxed);
        startAnew();
    }
    isResting = false;
    if (frame > 0)
        pass(audio, count_, samples);
    busy.clear(std::memory_order_release);
}

void LoopGuard::rest() noexcept
{
    if (busy.test_and_set(std::memory_order_acquire))
        return;
    if (wantsUnmute.load(std::memory_order_relaxed) && wantsUnmute.exchange(false, std::memory_order_acquire))
        isMuted.store(false, std::memory_order_relaxed);
    if (!isResting) {
        startAnew();
        isResting = true;
    }
    target = muted() ? 0.0f : 1.0f;
    gain = target;
    enter(muted() ? State::muted : State::watching);
    busy.clear(std::memory_order_release);
}

void LoopGuard::pass(float* const* audio, std::size_t channelCount, int samples) noexcept
{
    for (int done = 0; done < samples;) {
        const int take = std::min(frame - filled, samples - done);
        const bool keeps = state == State::watching || state == State::turned || state == State::turnedBack;
        float* here[channelsWatched] = {};
        for (std::size_t c = 0; c < channelCount; ++c) {
            here[c] = audio[c] + done;
            channels[c].add(here[c], take, keeps);
        }
        if (gain != 1.0f || target != 1.0f)
            render(here, channelCount, take);
        filled += take;
        done += take;
        if (filled == frame) {
            filled = 0;
            endFrame(channelCount);
        }
    }
}

void LoopGuard::render(float* const* audio, std::size_t channelCount, int samples) noexcept
{
    const float gainBefore = gain;
    const std::size_t pulseBefore = pulseAt;
    for (std::size_t c = 0; c < channelCount; ++c) {
        gain = gainBefore;
        pulseAt = pulseBefore;
        for (int i = 0; i < samples; ++i) {
            gain += std::clamp(target - gain, -fadeStep, fadeStep);
            float y = gain == 0.0f ? 0.0f : audio[c][i] * gain; // what is no number passes no mute
            if (pulseAt < echo) {
                const double w = std::sin(pi * static_cast<double>(pulseAt) / static_cast<double>(echo));
                y += pulseGain * static_cast<float>(w * w) * channels[c].kept(pulseAt);
                ++pulseAt;
            }
            audio[c][i] = y;
        }
    }
    if (target == 0.0f && state != State::muted)
        count.silent_s += samples / rate_Hz;
}

} // namespace couplet
