// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Chip.h"
#include "Screens/FitWordsPicture.h"
#include "Screens/NumberCanvas.h"

#include <functional>

// Purpose: the lower card of the fit's page: the result in words, the button that keeps it in the coupler, and the words
//          that open its reasons.
// Thread:  message.
namespace couplet {

class FitWordsPanel : public juce::Component
{
public:
    FitWordsPanel(FitControls&, const FitView&); // which are to stay

    void show(const Measures&); // the view as it is now
    NumberCanvas words{"Result of the fit"}, stored{"Correction in the coupler"};
    std::function<void()> onWhy, onWhatIf;
    std::function<void()> onBare; // take the reference with the bare microphone

    void resized() override;

private:
    void placeChips();

    juce::SharedResourcePointer<Fonts> fonts;
    FitControls& controls;
    Canvas card;
    Chip use{Chip::Kind::solid, "Use it in this coupler"}, bare{Chip::Kind::solid, "Take the reference bare"};
    Chip none{Chip::Kind::solid, "Use no correction in this coupler"};
    Chip useAnyway{Chip::Kind::link, "use the figure all the same"};
    Chip why{Chip::Kind::link, "why?"}, whatIf{Chip::Kind::link, "what would more readings do?"};
    const FitView& view;
    FitSummary summary;
    Measures measures;
};

} // namespace couplet
