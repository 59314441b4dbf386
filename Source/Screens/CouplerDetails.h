// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/CouplerList.h"
#include "Screens/FieldsEditor.h"
#include "Screens/FilePicker.h"
#include "Screens/Measures.h"
#include "Screens/ResponsePlot.h"
#include "Screens/VersionsPanel.h"

// Purpose: everything about the coupler that is selected in the list, and what can be done with it; of the entries that
//          are none, what they are.
// Thread:  message.
namespace couplet {

class CouplerDetails : public juce::Component
{
public:
    CouplerDetails(LibraryControls&, FilePicker&);

    void show(const LibraryView&, const ListEntry&);
    void setMeasures(const Measures& m) { measures = m; }
    void startRename();
    void startFields();
    void startVersions();
    bool edits() const { return name.isVisible() || fields.isVisible() || earlier.isVisible(); }
    void leaveEditing();
    void askResponse();
    void askExport();
    void copy();
    void remove();
    void put(int slot); // into that slot of the session

    std::function<void()> onChoose;
    std::function<void(const ProfileQuestion&)> onQuestion;
    std::function<void()> onEditingEnds;

    TextField name{"Name of the coupler", 17.0f};
    FieldsEditor fields;
    VersionsPanel earlier;

    void resized() override;

private:
    const CouplerRow* row() const;
    bool isKept() const { return row() != nullptr && row()->inLibrary; }
    const ProfileQuestion* question() const;
    std::string title() const;
    void rename();
    void chooseSlot();
    void drawCoupler(Pen&, float& y);
    void drawOther(Pen&, float& y) const;
    float placeChips(float bottom);

    juce::SharedResourcePointer<Fonts> fonts;
    LibraryControls& library;
    FilePicker& picker;
    Measures measures;
    LibraryView view;
    ListEntry entry;
    std::string editing; // the coupler whose name or fields are being typed, or whose versions are shown
    Canvas canvas;
    ResponsePlot plot;
    Chip choose{Chip::Kind::solid, "choose", 13.0f}, slot{Chip::Kind::opens, "put in slot", 13.0f};
    Chip renameChip{Chip::Kind::link, "rename", 13.0f}, change{Chip::Kind::link, "change", 13.0f};
    Chip copyChip{Chip::Kind::link, "copy", 13.0f}, removeChip{Chip::Kind::link, "remove", 13.0f};
    Chip response{Chip::Kind::link, "response table", 13.0f}, exportChip{Chip::Kind::link, "export", 13.0f};
    Chip versions{Chip::Kind::link, "compare", 13.0f}, earlierChip{Chip::Kind::link, "earlier versions", 13.0f};
};

} // namespace couplet
