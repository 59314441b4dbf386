// SPDX-License-Identifier: GPL-3.0-or-later
#include "ShownTexts.h"

#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/CouplerChooser.h"

namespace couplet {
namespace {

// Capitals and digits of B612 are 0.75 em high; some of its letters go 0.2 em below the line, its digits never.
juce::Rectangle<float> lettersOf(const DrawnText& text)
{
    const float size = text.style.size;
    const bool below = text.text.find_first_of("gjpqyQ,;()[]'") != std::string::npos;
    return {text.left(), text.baseline() - 0.75f * size, text.width, (below ? 0.95f : 0.75f) * size};
}

// `seen` is what scrolling lists show of their content.
void collect(juce::Component& component, juce::Point<float> origin, juce::Rectangle<float> seen,
             std::vector<ShownText>& all)
{
    const auto area = component.getLocalBounds().toFloat() + origin;
    if (dynamic_cast<juce::Viewport*>(&component) != nullptr)
        seen = seen.getIntersection(area);
    const auto take = [&](const Picture& picture) {
        for (const auto& text : picture.texts)
            if (const auto ink = lettersOf(text) + origin; ink.intersects(seen))
                all.push_back({text.text, ink, area, text.fits()});
    };
    if (auto* canvas = dynamic_cast<Canvas*>(&component))
        take(canvas->picture());
    else if (auto* chip = dynamic_cast<Chip*>(&component))
        take(chip->picture(false));
    else if (auto* chooser = dynamic_cast<CouplerChooser*>(&component))
        take(chooser->picture(false));
    for (auto* child : component.getChildren())
        if (child->isVisible())
            collect(*child, origin + child->getPosition().toFloat(), seen, all);
}

} // namespace

std::vector<ShownText> shownTexts(juce::Component& window)
{
    std::vector<ShownText> all;
    collect(window, {}, window.getLocalBounds().toFloat().expanded(1e4f), all);
    return all;
}

bool shows(juce::Component& window, const std::string& part)
{
    for (const auto& text : shownTexts(window))
        if (text.text.find(part) != std::string::npos)
            return true;
    return false;
}

std::vector<std::string> faultsOfLayout(juce::Component& window)
{
    std::vector<std::string> faults;
    const auto all = shownTexts(window);
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (!all[i].fits)
            faults.push_back("'" + all[i].text + "' is wider than its room");
        if (!all[i].inside.expanded(0.6f).contains(all[i].ink))
            faults.push_back("'" + all[i].text + "' is cut off");
        for (std::size_t j = 0; j < i; ++j)
            if (all[i].ink.reduced(0.3f).intersects(all[j].ink.reduced(0.3f)))
                faults.push_back("'" + all[i].text + "' stands on '" + all[j].text + "'");
    }
    return faults;
}

namespace {

Chip* chipSaying(juce::Component& from, const std::string& word)
{
    for (auto* child : from.getChildren()) {
        if (!child->isVisible())
            continue;
        auto* chip = dynamic_cast<Chip*>(child);
        if (chip != nullptr && chip->isEnabled() && chip->picture(false).spoken() == word)
            return chip;
        if (auto* found = chipSaying(*child, word))
            return found;
    }
    return nullptr;
}

} // namespace

bool press(juce::Component& window, const std::string& word)
{
    Chip* chip = chipSaying(window, word);
    if (chip == nullptr)
        return false;
    const auto middle = window.getLocalPoint(chip, chip->getLocalBounds().getCentre());
    if (window.getComponentAt(middle) != chip)
        return false; // something lies over it
    chip->onClick();
    return true;
}

} // namespace couplet
