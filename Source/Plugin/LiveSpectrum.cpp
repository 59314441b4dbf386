// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LiveSpectrum.h"

#include <new>
#include <utility>

namespace couplet {

void LiveSpectrum::follow(std::shared_ptr<SampleFeed> wanted)
{
    if (wanted == feed)
        return;
    stop();
    if (wanted != nullptr)
        start(std::move(wanted));
}

void LiveSpectrum::start(std::shared_ptr<SampleFeed> wanted)
{
    meter = std::make_unique<SpectrumMeter>(wanted->sampleRate_Hz());
    feed = std::move(wanted);
    feed->want(true);
    if (!worker->add(*this))
        stop(); // tried again at the next call
}

void LiveSpectrum::stop()
{
    if (feed == nullptr)
        return;
    feed->want(false);
    worker->remove(*this);
    feed.reset();
    meter.reset();
    const std::lock_guard lock(mutex);
    result.reset();
}

std::shared_ptr<const SpectrumResult> LiveSpectrum::newest() const
{
    const std::lock_guard lock(mutex);
    return result;
}

bool LiveSpectrum::work() noexcept
try {
    bool isNew = false;
    if (feed->endBreak()) {
        meter->restart();
        isNew = true;
    }
    const bool more =
        feed->take(meter->step(), [&](std::span<const float> samples) { isNew = meter->add(samples) || isNew; });
    if (isNew)
        tell();
    return more;
} catch (const std::bad_alloc&) { // what was told before stands
    return false;
}

void LiveSpectrum::tell()
{
    auto next = std::make_shared<const SpectrumResult>(meter->result());
    const std::lock_guard lock(mutex);
    result = std::move(next);
}

} // namespace couplet
