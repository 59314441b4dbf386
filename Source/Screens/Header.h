// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/CouplerChooser.h"
#include "Screens/Measures.h"

#include <array>
#include <functional>
#include <memory>

// Purpose: the upper part of every page: the coupler and the state of its reference, what the inputs are, the tabs.
// Thread:  message.
namespace couplet {

enum class Page { read, reference, fit, earphones, record };
inline constexpr std::size_t pages = 5;

class Header : public juce::Component
{
public:
    explicit Header(Controls&);

    void show(const LiveView&);
    void setPage(Page);
    void warnOfMonitoring(bool);
    static float height(const Measures& m) { return m.wide() ? 101.0f : 98.0f; }

    std::function<void(Page)> onPage;
    std::function<void()> onFarView;
    std::function<void()> onChooser;
    void focusChooser() { chooser.grabKeyboardFocus(); }

    void resized() override;
    bool keyPressed(const juce::KeyPress&) override; // left and right go through the tabs

private:
    Picture texts() const;
    void wideTexts(Pen&) const;
    void narrowTexts(Pen&) const;
    void warningText(Pen&, float right, float baseline, float size) const;
    void placeTabs(float middle, float height);

    juce::SharedResourcePointer<Fonts> fonts;
    Controls& controls;
    Canvas canvas;
    CouplerChooser chooser;
    std::array<std::unique_ptr<Chip>, pages> tabs;
    Chip hold{Chip::Kind::choice, "Hold", 13.0f}, far{Chip::Kind::choice, "Far view", 13.0f};

    // What the texts are made of.
    Page page = Page::read;
    Mark mark;
    std::string reference, offset, inputs;
    PassInput passInput = PassInput::guarded;
    bool warns = true;
};

} // namespace couplet
