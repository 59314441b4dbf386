// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/MainView.h"
#include "Screens/Picture.h"

#include <string>
#include <vector>

// Purpose: every text that a window shows, where it stands, and what surrounds it.
// Units:   pixels of the window at scale 1.
namespace couplet {

struct ShownText
{
    std::string text;
    juce::Rectangle<float> ink;    // letters without the air above and below them
    juce::Rectangle<float> inside; // of the component that shows it: beyond it nothing is painted
    bool fits = true;              // in the room it was given
};

std::vector<ShownText> shownTexts(juce::Component& window);
bool shows(juce::Component& window, const std::string& part);

// Sentences, empty when all is well: what is cut off, and what stands on something else.
std::vector<std::string> faultsOfLayout(juce::Component& window);

// Presses the word as a mouse would; false when it is not there, or cannot be got at.
bool press(juce::Component& window, const std::string& word);

// The first of its kind that can be seen.
template <class Kind> Kind* find(juce::Component& from)
{
    for (auto* child : from.getChildren()) {
        if (!child->isVisible())
            continue;
        if (auto* found = dynamic_cast<Kind*>(child))
            return found;
        if (auto* found = find<Kind>(*child))
            return found;
    }
    return nullptr;
}

} // namespace couplet
