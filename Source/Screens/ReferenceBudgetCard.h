// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/ReferenceView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/Measures.h"

#include <functional>

// Purpose: below the other cards: where the offset's uncertainty comes from, and what else has to be known of it.
// Thread:  message.
namespace couplet {

class ReferenceBudgetCard : public juce::Component
{
public:
    ReferenceBudgetCard();

    void show(const ReferenceView&);
    void setMeasures(const Measures& m) { measures = m; }
    std::function<void()> onTable, onRemarks;

    void resized() override { draw(); }

private:
    void draw();
    void drawRemarks(Pen&, float left);

    juce::SharedResourcePointer<Fonts> fonts;
    Measures measures;
    ReferenceView view;
    Canvas canvas;
    Chip table{Chip::Kind::link, "table and terms"}, all{Chip::Kind::link, ""};
};

// Sentences with a ring before each, as many whole ones as there is room for; says how many.
std::size_t drawBulleted(Pen&, const std::vector<std::string>&, juce::Rectangle<float> area, const TextStyle&,
                         float pitch);

} // namespace couplet
