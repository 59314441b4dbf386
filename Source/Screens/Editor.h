// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/Processor.h"
#include "Screens/MainView.h"

#include <cstdint>
#include <optional>

// Purpose: the plugin's window: asks the processor twenty times a second for its view and shows what is new. Closed, it
//          costs nothing.
// Thread:  message.
namespace couplet {

class Editor : public juce::AudioProcessorEditor, private juce::Timer
{
public:
    explicit Editor(Processor&);
    ~Editor() override;

    void resized() override;

private:
    void timerCallback() override;

    Processor& bench;
    MainView view;
    std::optional<std::uint64_t> shownRevision, shownLibrary, shownReference, shownFit;
};

} // namespace couplet
