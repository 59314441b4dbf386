// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <juce_events/juce_events.h>

#include <functional>
#include <memory>

// Purpose: calls a function on the message thread so many times a second until it is gone. Unlike juce::Timer it may
//          end on any thread, while the function runs: LV2 hosts make and delete instances on threads of their own.
// Thread:  the function: message. Making and ending: any but audio; ending waits for a call that is going on.
namespace couplet {

class Ticker
{
public:
    Ticker(int timesPerSecond, std::function<void()> call);
    ~Ticker();
    Ticker(const Ticker&) = delete;
    Ticker& operator=(const Ticker&) = delete;

private:
    class Beat;
    std::unique_ptr<Beat> beat;
};

} // namespace couplet
