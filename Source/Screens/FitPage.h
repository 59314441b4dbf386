// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Bars.h"
#include "Screens/EvidencePanel.h"
#include "Screens/FilePicker.h"
#include "Screens/FitCapturePanel.h"
#include "Screens/FitTableCard.h"
#include "Screens/FitWhatIfPanel.h"
#include "Screens/FitWordsPanel.h"
#include "Screens/SimulatedBar.h"

#include <functional>
#include <vector>

// Purpose: the Fit page: how much the coupler takes away, by readings, earphones and what they say together. All of it
//          is drawn from a FitView; showing one that looks the same repaints nothing.
// Keys:    N goes to the next group, the space bar takes one reading, R types one, G turns the hands-free capture on and
//          off, Ctrl+Z undoes, Ctrl+V pastes a table or a column of readings, Ctrl+O reads a table from a file, escape
//          closes what is open. Tab reaches everything; see FitTable, EvidencePanel and NumberCanvas for copying a
//          number.
// Files:   a table that is dropped onto the page is read.
// Thread:  message.
namespace couplet {

class FitPage : public juce::Component, private juce::Timer
{
public:
    static constexpr int answerStays_ms = 2500;

    FitPage(FitControls&, Controls&);

    void show(const FitView&);
    void show(const LiveView&); // what lies on the simulated coupler
    void setMeasures(const Measures& m) { measures = m; }
    void endCapture(); // if one runs
    void openWhy(bool);
    void openWhatIf(bool);
    void dropped(const std::vector<std::filesystem::path>&);

private:
    FitControls& controls;
    FitView view; // the parts show it from here

public:
    FitTableCard readings;
    EvidencePanel evidence;
    FitWordsPanel result;
    FitWhatIfPanel whatIf;
    FilePicker picker;
    FitMenu calibratorMenu(), microphoneMenu();

    std::function<void()> onReference; // the Reference page
    std::function<void(const juce::String&)> toClipboard = [](const juce::String& text) {
        juce::SystemClipboard::copyTextToClipboard(text);
    };
    std::function<juce::String()> fromClipboard = [] { return juce::SystemClipboard::getTextFromClipboard(); };

    void resized() override;
    void visibilityChanged() override;
    bool keyPressed(const juce::KeyPress&) override;

private:
    enum class Beside { evidence, why, whatIf }; // what stands to the right of the table

    bool commandKey(const juce::KeyPress&);
    bool leave();
    void timerCallback() override;
    void copy(const std::string& number);
    void say(const std::string& words); // for a short while
    void paste();
    void askTableFile();
    void choose(Beside);
    void showParts();
    float headHeight() const;
    TextStyle questionStyle() const;
    void placeTop(float top, float width);
    void drawTexts();

    juce::SharedResourcePointer<Fonts> fonts;
    SimulatedBar simulated;
    Canvas heading, besideCard, answer;
    Chip calibrator{Chip::Kind::opens, "calibrator", 13.0f}, microphone{Chip::Kind::opens, "microphone", 13.0f};
    Chip undo{Chip::Kind::link, "undo", 13.0f};
    FitCapturePanel capture;
    FitTextPanel why{"Why this result"};
    Measures measures;
    std::string answerWords;
    Beside beside = Beside::evidence;
    float barShown = 0.0f, headTop = 0.0f;
    bool seen = false;
};

} // namespace couplet
