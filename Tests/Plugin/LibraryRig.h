// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Scratch.h"
#include "Plugin/Rig.h"

#include <algorithm>
#include <cstdlib>
#include <functional>

// Purpose: a processor whose library is a scratch folder, and the waiting that work in the background needs.
// Thread:  message.
namespace couplet::tests {

class LibraryRig
{
public:
    LibraryRig()
    {
        const char* named = std::getenv("COUPLET_LIBRARY"); // NOLINT(concurrency-mt-unsafe): one thread here
        before = named != nullptr ? named : "";
        ::setenv("COUPLET_LIBRARY", scratch.path.c_str(), 1); // NOLINT(concurrency-mt-unsafe)
    }
    ~LibraryRig()
    {
        processor.reset();
        ::setenv("COUPLET_LIBRARY", before.c_str(), 1); // NOLINT(concurrency-mt-unsafe)
    }
    LibraryRig(const LibraryRig&) = delete;
    LibraryRig& operator=(const LibraryRig&) = delete;

    // After the library has what the session is to start with.
    void start() { processor = std::make_unique<Processor>(); }

    bool until(const std::function<bool(const LibraryView&)>& holds, double most_s = 5.0)
    {
        const auto end = juce::Time::getMillisecondCounterHiRes() + 1e3 * most_s;
        while (juce::Time::getMillisecondCounterHiRes() < end) {
            processor->tick();
            if (holds(view()))
                return true;
            juce::Thread::sleep(2);
        }
        return false;
    }
    // Until nothing is being carried out any more.
    bool done()
    {
        return until([](const LibraryView& v) { return v.read && !v.busy; });
    }

    LibraryDesk& desk() { return processor->library(); }
    const LibraryView& view() { return processor->library().view(); }
    const CouplerRow* row(const std::string& name)
    {
        const auto& rows = view().rows;
        const auto found =
            std::find_if(rows.begin(), rows.end(), [&](const auto& r) { return r.profile->name == name; });
        return found == rows.end() ? nullptr : &*found;
    }
    std::string state()
    {
        juce::MemoryBlock block;
        processor->getStateInformation(block);
        return block.toString().toStdString();
    }
    void restore(const std::string& text)
    {
        processor->setStateInformation(text.data(), static_cast<int>(text.size()));
    }

    Scratch scratch;
    Folder folder{scratch.path};
    std::unique_ptr<Processor> processor;

private:
    std::string before;
};

inline Coupler inSlot(Coupler coupler, int slot)
{
    coupler.slot = slot;
    return coupler;
}

} // namespace couplet::tests
