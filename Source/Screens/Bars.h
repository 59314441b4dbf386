// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/VoltsField.h"

#include "Plugin/LiveView.h"

#include <initializer_list>
#include <vector>

// Purpose: bars that stand above a page only while there is a reason: a muted loop, sentences about host and
//          session, and what lies on the simulated coupler.
// Units:   heights in pixels; 0: the bar is not there.
// Thread:  message.
namespace couplet {

// Sentences, one below the other.
class NoticeBar : public juce::Component
{
public:
    NoticeBar();
    void show(const LiveView&);
    void show(std::vector<std::string>); // any other sentences
    float heightFor(float width) const;
    void resized() override;

private:
    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    std::vector<std::string> sentences;
};

// A loop that rose was muted, and how to have the sound back.
class LoopBar : public juce::Component
{
public:
    explicit LoopBar(Controls&);
    void show(const LiveView&);
    float heightFor(float width) const;
    void resized() override;

private:
    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    Chip unmute{Chip::Kind::solid, "Unmute", 13.0f};
    bool muted = false;
};

// Bars one below the other, each with a gap below it; those of no height are hidden.
float heightOfBars(std::initializer_list<float> heights);
struct PlacedBar
{
    juce::Component& bar;
    float height;
};
// Answers with where the next thing may begin.
float placeBars(std::initializer_list<PlacedBar>, float left, float top, float width);

} // namespace couplet
