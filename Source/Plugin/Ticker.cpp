// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Ticker.h"

#include <mutex>

namespace couplet {

class Ticker::Beat : public juce::Timer
{
public:
    explicit Beat(std::function<void()> c) : call(std::move(c)) {}

    void end()
    {
        stopTimer();
        const std::lock_guard lock(mutex);
        call = nullptr;
    }

private:
    void timerCallback() override
    {
        const std::lock_guard lock(mutex);
        if (call)
            call();
    }

    std::mutex mutex;
    std::function<void()> call;
};

Ticker::Ticker(int timesPerSecond, std::function<void()> call) : beat(std::make_unique<Beat>(std::move(call)))
{
    beat->startTimerHz(timesPerSecond);
}

// JUCE may be just about to call the timer on its own thread; that thread deletes it, once past that.
Ticker::~Ticker()
{
    beat->end();
    auto* messages = juce::MessageManager::getInstanceWithoutCreating();
    if (messages != nullptr && !messages->isThisTheMessageThread())
        juce::MessageManager::callAsync([last = std::shared_ptr<Beat>(std::move(beat))] {});
}

} // namespace couplet
