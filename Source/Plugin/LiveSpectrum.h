// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/BackgroundWorker.h"
#include "Plugin/SampleFeed.h"
#include "Signal/SpectrumMeter.h"

#include <memory>
#include <mutex>

// Purpose: the spectrum of an instance's microphone, worked out by the shared worker while somebody looks. While
//          nobody does it holds no memory and no work.
// Thread:  message; the destructor: any but audio.
namespace couplet {

class LiveSpectrum : private BackgroundWorker::Task
{
public:
    LiveSpectrum() = default;
    ~LiveSpectrum() override { stop(); }
    LiveSpectrum(const LiveSpectrum&) = delete;
    LiveSpectrum& operator=(const LiveSpectrum&) = delete;

    // To be called often: what is to be followed from now on; null: nothing. Another feed is another stream.
    void follow(std::shared_ptr<SampleFeed>);

    // Another pointer whenever there is something new; null: nothing yet.
    std::shared_ptr<const SpectrumResult> newest() const;

private:
    bool work() noexcept override; // worker
    void start(std::shared_ptr<SampleFeed>);
    void stop();
    void tell();

    const std::shared_ptr<BackgroundWorker> worker = BackgroundWorker::shared();
    std::shared_ptr<SampleFeed> feed; // this and the meter change only while the worker does not know this task
    std::unique_ptr<SpectrumMeter> meter;
    mutable std::mutex mutex; // of the result
    std::shared_ptr<const SpectrumResult> result;
};

} // namespace couplet
