// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Pen.h"

#include <functional>

// Purpose: shows the chosen coupler and opens the sheet of couplers; the arrow keys go through the session's slots
//          without it.
// Thread:  message.
namespace couplet {

class CouplerChooser : public juce::Button
{
public:
    explicit CouplerChooser(Controls&);

    void show(const LiveView&);
    Picture picture(bool focused) const;

    std::function<void()> onOpen;

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
};

} // namespace couplet
