// SPDX-License-Identifier: GPL-3.0-or-later
//
// Keys, clipboard and files of FitPage.
#include "Screens/FitPage.h"

namespace couplet {
namespace {

using Key = juce::KeyPress;

juce::juce_wchar letterOf(const juce::KeyPress& key)
{
    return juce::CharacterFunctions::toUpperCase(static_cast<juce::juce_wchar>(key.getKeyCode()));
}

} // namespace

bool FitPage::keyPressed(const juce::KeyPress& key)
{
    if (key.getModifiers().isCommandDown())
        return commandKey(key);
    if (key.getModifiers().isAltDown())
        return false;
    const auto letter = letterOf(key);
    if (key.isKeyCode(Key::escapeKey))
        return leave();
    if (letter == 'N')
        controls.nextFitTarget();
    else if (key.isKeyCode(Key::spaceKey))
        controls.takeFitReading();
    else if (letter == 'R')
        readings.askReading();
    else if (letter == 'G')
        controls.captureFitReadings(view.capture == FitCaptureState::off);
    else
        return false;
    return true;
}

bool FitPage::commandKey(const juce::KeyPress& key)
{
    const auto letter = letterOf(key);
    if (letter == 'Z' && view.canUndo)
        controls.undoFit();
    else if (letter == 'V')
        paste();
    else if (letter == 'O')
        askTableFile();
    else
        return false;
    return true;
}

// One thing at a time: what is asked, what is open, the capture.
bool FitPage::leave()
{
    if (readings.form.isAsking())
        readings.form.leave();
    else if (beside == Beside::why)
        openWhy(false);
    else if (beside == Beside::whatIf)
        openWhatIf(false);
    else if (view.capture != FitCaptureState::off)
        controls.captureFitReadings(false);
    else
        return false;
    return true;
}

void FitPage::copy(const std::string& number)
{
    const auto text = copiedText(number);
    toClipboard(juce::String::fromUTF8(text.c_str()));
    const bool one = text.find('\t') == std::string::npos;
    say(one ? "copied " + number : "copied the row");
}

void FitPage::say(const std::string& words)
{
    answerWords = words;
    drawTexts();
    juce::AccessibilityHandler::postAnnouncement(juce::String::fromUTF8(words.c_str()),
                                                 juce::AccessibilityHandler::AnnouncementPriority::medium);
    startTimer(answerStays_ms);
}

void FitPage::timerCallback()
{
    stopTimer();
    answerWords.clear();
    drawTexts();
}

void FitPage::paste()
{
    const auto text = fromClipboard();
    if (text.trim().isEmpty())
        return say("nothing to paste");
    controls.pasteFitTable(text.toStdString());
}

void FitPage::askTableFile()
{
    picker.ask({"Read readings from", "*.csv;*.tsv;*.txt", "", false},
               [this](const auto& paths) { controls.readFitTable(paths.front()); });
}

void FitPage::dropped(const std::vector<std::filesystem::path>& paths)
{
    if (paths.size() != 1)
        return say("drop one table");
    controls.readFitTable(paths.front());
}

} // namespace couplet
