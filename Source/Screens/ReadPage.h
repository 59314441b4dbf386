// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Bars.h"
#include "Screens/EarphoneChoices.h"
#include "Screens/Measures.h"
#include "Screens/SimulatedBar.h"
#include "Screens/SumPicture.h"
#include "Screens/ViewPanel.h"

// Purpose: the page of a live reading: measured, difference and expected, the checks on the tone, and below them the
//          last minute or the spectrum.
// Thread:  message.
namespace couplet {

class ReadPage : public juce::Component
{
public:
    explicit ReadPage(Controls&);

    void show(const LiveView&);
    void setMeasures(const Measures& m) { measures = m; }
    void openChoices(bool);
    void openNotes(bool);
    ViewPanel& viewPanel() { return views; }

    void resized() override;

private:
    struct Columns
    {
        float width = 0.0f, middle = 0.0f, height = 0.0f;
    };
    float barsHeight(float width) const;
    void layOut();
    float layOutBars(float width);
    void layOutMiddle(float top);
    void layOutNotes(float top, float bottom, bool viewsFit);
    void drawPictures();
    struct Notes
    {
        Picture picture;
        bool whole = true; // all of them fit
    };
    Notes notesPicture(juce::Point<float> size) const;

    juce::SharedResourcePointer<Fonts> fonts;
    Measures measures;
    LiveView view;
    LoopBar loop;
    NoticeBar notice;
    SimulatedBar simulated;
    Canvas measured, difference, expected, strip, allNotes;
    Chip earphone{Chip::Kind::opens, "choose an earphone", 12.0f};
    Chip more{Chip::Kind::opens, "", 12.0f};
    EarphoneChoices choices;
    ViewPanel views;
    Columns columns;
    float barsShown = -1.0f;
    bool choicesOpen = false, notesOpen = false, notesFill = false;
};

} // namespace couplet
