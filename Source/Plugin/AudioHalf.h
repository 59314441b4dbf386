// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/EstimateRing.h"
#include "Plugin/SampleFeed.h"
#include "Signal/Analyser.h"
#include "Simulation/SimulatedBench.h"

#include <array>
#include <atomic>
#include <cstdint>
#include <memory>
#include <mutex>
#include <optional>

// Purpose: what is measured on the audio thread: the microphone's channel with the drive beside it, or a second
//          coupler's microphone for itself, or the simulated bench in place of both; estimates go into two rings. It
//          never writes to the audio that it hears.
// Ranges:  sample rate 8 to 384 kHz; at any other nothing is measured, and `measures` says so. Blocks of any size.
// Thread:  process: audio. prepare: any but audio, also while audio runs (blocks that come meanwhile pass unmeasured).
//          The rest: any.
namespace couplet {

enum class SecondChannel { unused, drive, secondMicrophone };

// Channels are counted from 1; one that is not there is not measured.
struct AudioSettings
{
    int microphone = 1;
    SecondChannel second = SecondChannel::unused; // it is the other of the first two channels
    std::optional<OnCoupler> simulated;           // absent: the real input

    int secondNumber() const { return 3 - microphone; }
    bool operator==(const AudioSettings&) const = default;
};

class AudioHalf
{
public:
    void prepare(double sampleRate_Hz);
    void process(const float* const* channels, int channelCount, int samples, const AudioSettings&) noexcept;

    // Energies, extremes and peaks count anew from the next block on; the tone is not touched.
    void restartLevels() noexcept { wantsLevels.store(true, std::memory_order_release); }

    EstimateRing& microphoneRing() { return fromMicrophone; }
    EstimateRing& secondRing() { return fromSecond; }
    // The microphone's samples since the last `prepare`; null at a rate that is not measured. Any but audio.
    std::shared_ptr<SampleFeed> sampleFeed() const;

    double sampleRate_Hz() const noexcept { return rate_Hz.load(std::memory_order_relaxed); } // 0: never prepared
    bool measures() const noexcept;
    int channelCount() const noexcept { return channelsHere.load(std::memory_order_relaxed); }
    std::int64_t blocks() const noexcept { return blockCount.load(std::memory_order_relaxed); }
    std::int64_t lost() const noexcept { return fromMicrophone.lost() + fromSecond.lost(); }

private:
    static constexpr int piece = 256; // samples of the simulated bench at a time

    void follow(const AudioSettings&) noexcept;
    void measure(const float* microphone, const float* second, int samples) noexcept;
    void measureSimulated(int samples) noexcept;
    void measureInput(const float* const* channels, int channelCount, int samples) noexcept;

    std::atomic_flag busy; // held for a block or while preparing; whoever comes second on the audio thread passes by
    std::unique_ptr<Analyser> analyser, secondAnalyser;
    std::unique_ptr<SimulatedBench> bench;
    std::array<float, piece> simulatedMicrophone{}, simulatedDrive{};
    AudioSettings settings;
    std::uint32_t stream = 0;

    EstimateRing fromMicrophone, fromSecond;
    SampleFeed* samplesOut = nullptr; // of the audio thread
    mutable std::mutex feedMutex;     // of the next; never taken on the audio thread
    std::shared_ptr<SampleFeed> feed; // what the audio thread writes to
    std::atomic<double> rate_Hz{0.0};
    std::atomic<int> channelsHere{0};
    std::atomic<std::int64_t> blockCount{0};
    std::atomic<bool> wantsLevels{false};
};

} // namespace couplet
