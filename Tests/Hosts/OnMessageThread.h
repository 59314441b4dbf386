// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <juce_events/juce_events.h>

namespace couplet::hosts {

// Runs it on the message thread and waits.
template <class Work> void onMessageThread(Work&& work)
{
    juce::WaitableEvent done;
    juce::MessageManager::callAsync([&] {
        work();
        done.signal();
    });
    done.wait();
}

} // namespace couplet::hosts
