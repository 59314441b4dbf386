// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/AudioHalf.h"

#include "Plugin/Held.h"
#include "Signal/Sizes.h"

#include <algorithm>
#include <cmath>
#include <span>

namespace couplet {
namespace {

constexpr std::uint64_t seedOfTheSimulation = 1;

bool canMeasureAt(double rate_Hz)
{
    return rate_Hz >= lowestRate_Hz && rate_Hz <= highestRate_Hz;
}

} // namespace

bool AudioHalf::measures() const noexcept
{
    return canMeasureAt(sampleRate_Hz());
}

std::shared_ptr<SampleFeed> AudioHalf::sampleFeed() const
{
    const std::lock_guard lock(feedMutex);
    return feed;
}

void AudioHalf::prepare(double sampleRate_Hz)
{
    const bool measurable = canMeasureAt(sampleRate_Hz);
    auto newAnalyser = measurable ? std::make_unique<Analyser>(sampleRate_Hz) : nullptr;
    auto newSecond = measurable ? std::make_unique<Analyser>(sampleRate_Hz) : nullptr;
    auto newBench =
        measurable ? std::make_unique<SimulatedBench>(demoScenario(), sampleRate_Hz, seedOfTheSimulation) : nullptr;
    auto newFeed = measurable ? std::make_shared<SampleFeed>(sampleRate_Hz) : nullptr;
    const std::lock_guard lock(feedMutex); // before the flag: whoever holds that waits for nothing
    const Held held(busy);
    samplesOut = newFeed.get();
    feed.swap(newFeed);
    analyser.swap(newAnalyser);
    secondAnalyser.swap(newSecond);
    bench.swap(newBench);
    settings = {};
    ++stream;
    // What is no number is no rate either: it would never equal itself.
    rate_Hz.store(std::isfinite(sampleRate_Hz) ? sampleRate_Hz : 0.0, std::memory_order_relaxed);
}

void AudioHalf::process(const float* const* channels, int channelCount, int samples,
                        const AudioSettings& wanted) noexcept
{
    if (busy.test_and_set(std::memory_order_acquire))
        return;
    channelsHere.store(channelCount, std::memory_order_relaxed);
    if (analyser != nullptr) {
        follow(wanted);
        if (settings.simulated)
            measureSimulated(samples);
        else
            measureInput(channels, channelCount, samples);
    }
    blockCount.store(blockCount.load(std::memory_order_relaxed) + 1, std::memory_order_relaxed); // `busy` is held
    busy.clear(std::memory_order_release);
}

// Another channel or source is another stream; what lies on the simulated coupler is not, as on a real one.
void AudioHalf::follow(const AudioSettings& wanted) noexcept
{
    const bool anotherSource = wanted.microphone != settings.microphone || wanted.second != settings.second ||
                               wanted.simulated.has_value() != settings.simulated.has_value();
    settings = wanted;
    if (anotherSource) {
        analyser->restart();
        secondAnalyser->restart();
        ++stream;
        samplesOut->breakOff();
    }
    // A look costs a block of 16 samples nothing; an exchange each time would.
    if (wantsLevels.load(std::memory_order_relaxed) && wantsLevels.exchange(false, std::memory_order_acquire)) {
        analyser->restartLevels();
        secondAnalyser->restartLevels();
    }
    if (settings.simulated && !bench->put(*settings.simulated))
        settings.simulated = OnCoupler{};
}

void AudioHalf::measure(const float* microphone, const float* second, int samples) noexcept
{
    samplesOut->write(microphone, samples);
    analyser->add(microphone, second, samples, [this](const Estimate& e) { fromMicrophone.push({e, stream}); });
}

void AudioHalf::measureSimulated(int samples) noexcept
{
    for (int left = samples; left > 0;) {
        const int take = std::min(left, piece);
        const auto count = static_cast<std::size_t>(take);
        bench->render(std::span(simulatedMicrophone).first(count), std::span(simulatedDrive).first(count));
        const bool sensed = settings.second == SecondChannel::drive;
        measure(simulatedMicrophone.data(), sensed ? simulatedDrive.data() : nullptr, take);
        left -= take;
    }
}

void AudioHalf::measureInput(const float* const* channels, int channelCount, int samples) noexcept
{
    const auto channel = [&](int number) {
        return number >= 1 && number <= channelCount ? channels[number - 1] : nullptr;
    };
    const float* microphone = channel(settings.microphone);
    const float* other = channel(settings.secondNumber());
    if (microphone != nullptr)
        measure(microphone, settings.second == SecondChannel::drive ? other : nullptr, samples);
    if (settings.second == SecondChannel::secondMicrophone && other != nullptr)
        secondAnalyser->add(other, nullptr, samples, [this](const Estimate& e) { fromSecond.push({e, stream}); });
}

} // namespace couplet
