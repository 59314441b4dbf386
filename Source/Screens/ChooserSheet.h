// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/CouplerDetails.h"
#include "Screens/CouplerList.h"
#include "Screens/FilePicker.h"
#include "Screens/Measures.h"
#include "Screens/SheetBar.h"
#include "Screens/TextField.h"

// Purpose: the couplers, over the whole window: search as you type, choose, and keep the library in order.
// Keys:    in the search, which has the keyboard: up and down go through the list, Return chooses, a digit in an empty
//          search takes that slot, escape leaves. F2 renames, F4 changes the fields, Ctrl+D copies, Ctrl+Delete removes,
//          Ctrl+Z undoes, Ctrl+E shows earlier versions, Ctrl+N makes a new one, Ctrl+O imports, Ctrl+S exports, Ctrl+R
//          attaches a response table, Ctrl and a digit put into that slot. Tab reaches everything.
// Thread:  message.
namespace couplet {

class ChooserSheet : public juce::Component, private juce::KeyListener
{
public:
    ChooserSheet(Controls&, LibraryControls&);
    ~ChooserSheet() override;

    void open();
    void show(const LiveView&);
    void showLibrary(const LibraryView&);
    void setMeasures(const Measures&);

    void searchFor(const std::string&);
    void dropped(const std::vector<std::filesystem::path>&);
    FilePicker picker;

    std::function<void()> onClose;
    std::function<void(const ProfileQuestion&)> onQuestion;

    void paint(juce::Graphics& g) override { g.fillAll(colours::paper); }
    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;

private:
    bool keyPressed(const juce::KeyPress&, juce::Component*) override; // of the search
    bool commandKey(const juce::KeyPress&);
    bool digitKey(const juce::KeyPress&);
    void move(int by);
    void take();
    void takeSlot(int slot);
    void fill();
    void selectName(const std::string& name);
    void showSelected();
    void makeNew();
    void askImport();
    void askExport();
    void drawTexts();
    std::string countWords() const;
    const ListEntry* selected() const;

    juce::SharedResourcePointer<Fonts> fonts;
    Controls& controls;
    LibraryControls& library;
    Measures measures;
    LibraryView view;
    std::string inUse;
    bool simulated = false;
    OnCoupler onSimulated;
    int seenMade = 0;
    Canvas canvas;
    TextField search{"Search the couplers", 14.0f};
    CouplerList list;
    CouplerDetails details;
    SheetBar bar;
    Chip add{Chip::Kind::opens, "new", 13.0f}, import{Chip::Kind::link, "import", 13.0f};
    Chip exportAll{Chip::Kind::link, "export all", 13.0f}, close{Chip::Kind::link, "close", 13.0f};
    std::size_t found = 0; // couplers that the search lets through
};

} // namespace couplet
