// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/DescriptionPage.h"
#include "Screens/FarPicture.h"
#include "Screens/Header.h"
#include "Screens/ReadPage.h"

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

class Stage : public juce::Component
{
public:
    explicit Stage(Controls&);

    void show(const LiveView&);
    void setPage(Page);
    void setFarView(bool);
    bool showsFarView() const { return far.isVisible(); }
    void warnOfMonitoring(bool warns) { header.warnOfMonitoring(warns); }
    bool holds() const { return view.hold; }
    ReadPage& readPage() { return read; }

    void resized() override;

private:
    void showPages();
    void drawFooter();

    juce::SharedResourcePointer<Fonts> fonts;
    LiveView view;
    Header header;
    ReadPage read;
    std::array<std::unique_ptr<DescriptionPage>, pages - 1> others;
    Canvas footer;
    FarView far;
    Page page = Page::read;
    Measures measures;
};

} // namespace couplet
