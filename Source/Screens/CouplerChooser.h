// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Pen.h"

// Purpose: shows the chosen coupler and opens the list of the session's couplers; the arrow keys go through them
//          without it. The simulated bench stands at the list's end.
// Thread:  message.
namespace couplet {

class CouplerChooser : public juce::Button
{
public:
    explicit CouplerChooser(Controls&);

    void show(const LiveView&);
    Picture picture(bool focused) const;

    juce::PopupMenu menu() const; // ids: 1 + slot, and simulatedId
    void choose(int id);
    static constexpr int simulatedId = 100;

    void paintButton(juce::Graphics&, bool highlighted, bool down) override;
    void clicked() override;
    bool keyPressed(const juce::KeyPress&) override;

private:
    void step(int direction);

    juce::SharedResourcePointer<Fonts> fonts;
    Controls& controls;
    std::array<std::string, 16> names;
    std::string name;
    int slot = 0;
    bool simulated = false;
    OnCoupler onSimulated;
};

} // namespace couplet
