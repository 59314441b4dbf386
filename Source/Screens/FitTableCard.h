// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/FitForm.h"
#include "Screens/FitMenu.h"
#include "Screens/FitTable.h"

#include <functional>
#include <string>

// Purpose: the left card of the fit's page: the table, and below it what can be done with it; what has to be typed is
//          asked for there.
// Keys:    as FitTable; F2 renames.
// Thread:  message.
namespace couplet {

class FitTableCard : public juce::Component
{
public:
    FitTableCard(FitControls&, const FitView&); // which are to stay

    void show(const Measures&); // the view as it is now
    FitTable table;
    FitForm form;
    std::function<void()> onPaste, onTableFile;

    void askReading();       // of where the next one goes
    void askUncertainties(); // transfer and adapter
    void ask(FitQuestion question) { form.ask(std::move(question)); }
    FitMenu addMenu();
    FitMenu rowMenu(); // of the selected row, and of everything

    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;

private:
    void placeChips(float middle);
    void drawCard();
    void selected();
    void askCorrection();
    void askReason();
    void askNewFitting();
    void askRename();
    void askNewEarphone();
    void askEarphone(const FitTarget&); // one that is there, whole
    void removeSelected();
    void addRowActions(FitMenu&, const FitRow&);
    void addEarphoneActions(FitMenu&, const FitRow&);

    juce::SharedResourcePointer<Fonts> fonts;
    FitControls& controls;
    Canvas card;
    Chip reading{Chip::Kind::link, "+ reading"}, add{Chip::Kind::opens, "add"}, row{Chip::Kind::opens, "this row"};
    Chip capture{Chip::Kind::link, "hands-free capture"}, file{Chip::Kind::link, "read from a table file"};
    const FitView& view;
    Measures measures;
};

} // namespace couplet
