// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/ChooserSheet.h"
#include "Screens/ConflictBar.h"
#include "Screens/ConflictSheet.h"
#include "Screens/DescriptionPage.h"
#include "Screens/FarPicture.h"
#include "Screens/FitPage.h"
#include "Screens/Header.h"
#include "Screens/ReadPage.h"
#include "Screens/ReferencePage.h"

#include <array>
#include <memory>

// Purpose: everything in the window at scale 1; MainView scales it to the window.
// Thread:  message.
namespace couplet {

// Over the whole window; a click leaves it.
class FarView : public juce::Component
{
public:
    FarView();
    void show(const LiveView&);
    std::function<void()> onLeave;
    void paint(juce::Graphics& g) override { g.fillAll(colours::paper); }
    void resized() override;
    void mouseDown(const juce::MouseEvent&) override;

private:
    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    LiveView view;
};

// From here on pages are only described.
inline constexpr std::size_t firstDescribed = static_cast<std::size_t>(Page::fit);

class Stage : public juce::Component
{
public:
    Stage(Controls&, LibraryControls*); // null: there is nothing to choose from

    void show(const LiveView&);
    void showLibrary(const LibraryView&);
    void showReference(const ReferenceView&);
    void connectFit(FitControls&);
    void showFit(const FitView&);
    FitPage* fitPage() { return page == Page::fit && fit != nullptr && fit->isVisible() ? fit.get() : nullptr; }
    void setPage(Page);
    void setFarView(bool);
    bool showsFarView() const { return far.isVisible(); }
    void warnOfMonitoring(bool warns) { header.warnOfMonitoring(warns); }
    bool holds() const { return view.hold; }
    ReadPage& readPage() { return read; }
    ReferencePage& referencePage() { return reference; }
    void openChooser(bool);
    bool showsChooser() const { return chooserOpen; }
    ChooserSheet* chooserSheet() { return chooser.get(); }
    void askAbout(const ProfileQuestion&);
    bool hasSheet() const { return chooserOpen || conflict.isVisible(); }

    void resized() override;

private:
    void showPages();
    void drawFooter();
    void openByTab(Page);
    // It waits while a loop is muted: that comes first, and both need room.
    bool asks() const { return question.heightFor() > 0.0f && !view.loopMuted; }
    void closeConflict();
    void answer(const ProfileQuestion&, ProfileAnswer);

    juce::SharedResourcePointer<Fonts> fonts;
    Controls& controls;
    LibraryControls* library;
    LiveView view;
    LibraryView couplers;
    Header header;
    ConflictBar question;
    ReadPage read;
    ReferencePage reference;
    std::array<std::unique_ptr<DescriptionPage>, pages - firstDescribed> others;
    std::unique_ptr<FitPage> fit; // stands in place of its description
    Canvas footer;
    FarView far;
    std::unique_ptr<ChooserSheet> chooser;
    ConflictSheet conflict;
    bool chooserOpen = false;
    Page page = Page::read;
    Measures measures;
};

} // namespace couplet
