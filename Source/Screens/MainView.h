// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/FitView.h"
#include "Plugin/LibraryView.h"
#include "Plugin/ReferenceView.h"
#include "Screens/Look.h"

#include <memory>

// Purpose: the whole window as a function of a view: header, the five pages, the footer, and the far view over them.
//          Showing a view that looks the same repaints nothing.
// Units:   laid out for 1100x720 and down to 760x520; beyond, everything is drawn larger.
// Keys:    F far view and back, H hold, S the Read page's next view, C the couplers; before these those of the page, see
//          ReferencePage and FitPage.
// Files:   dragged onto it: couplers go into the library, a response table to the coupler that is selected, a table of
//          readings onto the Fit page.
// Thread:  message.
namespace couplet {

class ReferencePage;
class Stage;

class MainView : public juce::Component, public juce::FileDragAndDropTarget
{
public:
    explicit MainView(Controls&, LibraryControls* = nullptr);
    ~MainView() override;

    void show(const LiveView&);
    void showLibrary(const LibraryView&);
    void showReference(const ReferenceView&);
    // What the Reference page asks; null: it shows and asks for nothing.
    void useReferences(ReferenceControls*);
    ReferencePage& referencePage();
    // Without, the Fit page only describes itself. The controls must outlive this window.
    void connectFit(FitControls&);
    void showFit(const FitView&);

    // The sentence beside the inputs, where the microphone's sound goes on into a host's track.
    void warnOfMonitoring(bool);

    void openPage(int index); // 0 Read, 1 Reference, 2 Fit, 3 Earphones, 4 Record
    void setFarView(bool);
    bool showsFarView() const;
    void openEarphoneChoices(bool);
    void openNotes(bool);
    void openView(int index); // of the Read page: 0 last 60 s, 1 spectrum, 2 orders
    void openChooser(bool);
    bool showsChooser() const;
    void askAbout(const ProfileQuestion&);

    void paint(juce::Graphics&) override;
    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;
    bool isInterestedInFileDrag(const juce::StringArray&) override;
    void filesDropped(const juce::StringArray&, int x, int y) override;

private:
    Look look;
    Controls& controls;
    std::unique_ptr<Stage> stage;
    juce::TooltipWindow hints{this};
};

} // namespace couplet
