// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Canvas.h"
#include "Screens/ResponsePicture.h"

#include <memory>

// Purpose: a response table as a plot: the point under the mouse, or the one that the arrow keys go to, is told in
//          figures.
// Thread:  message.
namespace couplet {

class ResponsePlot : public Canvas
{
public:
    ResponsePlot();

    void show(std::shared_ptr<const Coupler>); // null: nothing
    void tell(std::optional<std::size_t> point);

    void resized() override { draw(); }
    void mouseMove(const juce::MouseEvent&) override;
    void mouseExit(const juce::MouseEvent&) override { tell({}); }
    bool keyPressed(const juce::KeyPress&) override;
    void focusLost(FocusChangeType) override { tell({}); }

private:
    void draw();
    juce::Point<float> size() const { return getLocalBounds().getBottomRight().toFloat(); }

    juce::SharedResourcePointer<Fonts> typefaces;
    std::shared_ptr<const Coupler> coupler;
    std::optional<std::size_t> told;
};

} // namespace couplet
