// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ReferenceSumCard.h"

#include "Quantities/QuantityText.h"
#include "Screens/Lists.h"
#include "Screens/Pen.h"
#include "Screens/ReferenceSumPicture.h"
#include "Screens/ReferenceWords.h"

#include <algorithm>

namespace couplet {
namespace {

constexpr int mostSeatings = 9;

juce::String shown(const std::string& text)
{
    return juce::String::fromUTF8(text.c_str());
}

} // namespace

ReferenceSumCard::ReferenceSumCard()
{
    addAndMakeVisible(canvas);
    canvas.setTitle("From the calibrator to the offset");
    for (Chip* chip :
         {&calibrator, &level, &take, &keepMoved, &cancel, &seatings, &handsFree, &check, &second, &finish, &undo})
        addChildComponent(chip);
    addChildComponent(pressure);
    calibrator.setTooltip("which calibrator is on the coupler; up and down go through the library's");
    level.setTooltip("which of its levels it plays");
    take.setTooltip("averages ten seconds of each seating once the tone is fit (key Return)");
    keepMoved.setTooltip(
        "the change is meant: a gain or the microphone; the reference and its readings bear a mark (key M)");
    cancel.setTooltip("nothing is kept (escape)");
    seatings.setTooltip("how often the calibrator is seated; their scatter enters the uncertainty (keys 1 to 9)");
    handsFree.setTooltip("begins by itself when the calibrator's tone turns steady (key A)");
    check.setTooltip("does the last reference still hold? Nothing is stored (key K)");
    second.setTooltip("hears the calibrator's other level, to show the step with the next reference (key L)");
    finish.setTooltip("with the seatings that are kept (space)");
    undo.setTooltip("key Ctrl+Z");
    calibrator.onClick = [this] { chooseCalibrator(); };
    level.onClick = [this] { chooseLevel(); };
    seatings.onClick = [this] { chooseSeatings(); };
    take.onClick = [this] { ask(&ReferenceControls::takeReference); };
    keepMoved.onClick = [this] { ask(&ReferenceControls::keepMovedReference); };
    cancel.onClick = [this] { ask(&ReferenceControls::cancelReference); };
    handsFree.onClick = [this] { ask(&ReferenceControls::takeReferenceHandsFree); };
    check.onClick = [this] { ask(&ReferenceControls::checkReference); };
    second.onClick = [this] { ask(&ReferenceControls::hearSecondLevel); };
    finish.onClick = [this] { ask(&ReferenceControls::finishSeatings); };
    undo.onClick = [this] { ask(&ReferenceControls::undoReference); };
    pressure.onPressure = [this](std::optional<Kilopascals> p) {
        if (controls != nullptr)
            controls->setPressure(p);
    };
    pressure.onRefusal = [this](const std::string& why) {
        if (onRefusal)
            onRefusal(why);
    };
}

void ReferenceSumCard::ask(void (ReferenceControls::*what)())
{
    if (controls != nullptr)
        (controls->*what)();
}

void ReferenceSumCard::show(const ReferenceView& next)
{
    view = next;
    draw();
}

void ReferenceSumCard::focusTake()
{
    if (take.isVisible() && take.isEnabled() && take.isShowing())
        take.grabKeyboardFocus();
}

void ReferenceSumCard::chooseCalibrator()
{
    juce::PopupMenu list;
    for (std::size_t i = 0; i < view.calibrators.size(); ++i)
        list.addItem(1 + static_cast<int>(i), shown(view.calibrators[i]), true, view.calibrators[i] == view.calibrator);
    if (view.calibrators.empty())
        list.addItem(1, "the library has none", false, false);
    openList(list, calibrator, [this, names = view.calibrators](int id) {
        if (controls != nullptr)
            controls->chooseCalibrator(names[static_cast<std::size_t>(id - 1)]);
    });
}

void ReferenceSumCard::stepCalibrator(int by)
{
    const auto& all = view.calibrators;
    if (all.empty() || controls == nullptr)
        return;
    const auto at = std::find(all.begin(), all.end(), view.calibrator) - all.begin();
    const auto count = static_cast<std::ptrdiff_t>(all.size());
    const auto next = at == count ? (by > 0 ? 0 : count - 1) : std::clamp<std::ptrdiff_t>(at + by, 0, count - 1);
    if (next != at)
        controls->chooseCalibrator(all[static_cast<std::size_t>(next)]);
}

void ReferenceSumCard::chooseLevel()
{
    juce::PopupMenu list;
    list.addItem(1, "as the last reference tells", true, !view.level_dB);
    for (std::size_t i = 0; i < view.levels_dB.size(); ++i)
        list.addItem(2 + static_cast<int>(i), shown(levelText(view.levels_dB[i]) + " dB"), true,
                     view.level_dB == view.levels_dB[i]);
    openList(list, level, [this, levels = view.levels_dB](int id) {
        if (controls != nullptr)
            controls->chooseCalibratorLevel(id == 1 ? std::nullopt
                                                    : std::optional(levels[static_cast<std::size_t>(id - 2)]));
    });
}

void ReferenceSumCard::chooseSeatings()
{
    juce::PopupMenu list;
    for (int n = 1; n <= mostSeatings; ++n)
        list.addItem(n, shown(seatingsWords(n)), true, n == view.seatingsWanted);
    openList(list, seatings, [this](int n) {
        if (controls != nullptr)
            controls->setSeatings(n);
    });
}

bool ReferenceSumCard::keyPressed(const juce::KeyPress& key)
{
    const int by = key.isKeyCode(juce::KeyPress::downKey) ? 1 : key.isKeyCode(juce::KeyPress::upKey) ? -1 : 0;
    if (by == 0 || !calibrator.isEnabled())
        return false;
    stepCalibrator(by);
    return true;
}

void ReferenceSumCard::resized()
{
    draw();
}

void ReferenceSumCard::setChips()
{
    const bool running = view.canCancel;
    const float size = measures.between(11.5f, 13);
    for (Chip* chip : {&level, &seatings, &handsFree, &check, &second, &finish, &undo})
        chip->setSize(size);
    for (Chip* chip : {&take, &keepMoved, &cancel})
        chip->setSize(measures.between(12, 14));
    if (running && onBegins &&
        (take.hasKeyboardFocus(true) || handsFree.hasKeyboardFocus(true) || check.hasKeyboardFocus(true) ||
         second.hasKeyboardFocus(true)))
        onBegins();
    take.setVisible(!running);
    take.setEnabled(view.canTake);
    take.setText(view.waits_dB ? "Take again" : "Take reference, 10 s");
    keepMoved.setVisible(!running && view.waits_dB.has_value());
    cancel.setVisible(running);
    seatings.setText(seatingsWords(view.seatingsWanted));
    for (Chip* chip : {&seatings, &handsFree, &check, &second})
        chip->setVisible(!running);
    for (Chip* chip : {&handsFree, &check, &second})
        chip->setEnabled(view.canTake);
    second.setText(view.secondLevel_dBFS ? "second level heard" : "second level");
    finish.setText("finish with " + seatingsWords(view.seatingsKept));
    finish.setVisible(view.canFinish);
    undo.setText(running ? "drop the newest" : view.waits_dB ? "discard" : "undo");
    undo.setTitle(running         ? "Drop the newest seating"
                  : view.waits_dB ? "Discard the result that waits"
                                  : "Undo: set the reference just taken aside");
    undo.setVisible(view.canUndo);
    level.setVisible(view.levels_dB.size() > 1);
    level.setText(view.level_dB ? levelText(*view.level_dB) + " dB" : "as last time");
    level.setEnabled(!running);
    pressure.setVisible(view.needsPressure);
    pressure.show(view.pressure);
    calibrator.setEnabled(!running && !view.simulated);
}

// From the bottom up: commands in as many lines as they need, above them the one thing to do. Says where they begin.
float ReferenceSumCard::placeChips()
{
    const float inset = measures.between(12, 16), left = inset - 5.0f;
    const float right = static_cast<float>(getWidth()) - inset + 5.0f, height = measures.between(18, 22);
    std::vector<std::vector<Chip*>> lines{{}};
    float x = left;
    for (Chip* chip : {&seatings, &handsFree, &check, &second, &finish, &undo}) {
        if (!chip->isVisible())
            continue;
        if (x + chip->wantedWidth() > right && !lines.back().empty()) {
            lines.emplace_back();
            x = left;
        }
        lines.back().push_back(chip);
        x += chip->wantedWidth() + measures.between(1, 6);
    }
    float top = static_cast<float>(getHeight()) - measures.between(6, 10) - height * static_cast<float>(lines.size());
    const float begin = top - measures.between(30, 42);
    for (const auto& line : lines) {
        x = left;
        for (Chip* chip : line) {
            chip->placeLeft(x, top + height / 2.0f, height);
            x += chip->wantedWidth() + measures.between(1, 6);
        }
        top += height;
    }
    const float middle = begin + measures.between(14, 19), tall = measures.between(26, 34);
    take.placeLeft(inset, middle, tall);
    cancel.placeLeft(inset, middle, tall);
    const float keepLeft = static_cast<float>(take.getRight()) + measures.between(5, 8);
    if (keepMoved.isVisible()) { // where there is no room for all of it, the sign beside it says what it is about
        const std::string all = "Keep although moved";
        const float wanted = Chip(Chip::Kind::solid, all, measures.between(12, 14)).wantedWidth();
        keepMoved.setText(keepLeft + wanted <= right - 5.0f ? all : "Keep it");
        keepMoved.setTitle("Keep the reference although it moved");
    }
    keepMoved.placeLeft(keepLeft, middle, tall);
    return begin;
}

void ReferenceSumCard::draw()
{
    if (getWidth() <= 0)
        return;
    setChips();
    const float begin = placeChips(), inset = measures.between(12, 16);
    const auto size = getLocalBounds().getBottomRight().toFloat();
    canvas.setBounds(getLocalBounds());
    auto sum = referenceSumPicture(view, size, begin, measures, *fonts);
    Pen pen(*fonts);
    pen.picture = std::move(sum.picture);

    const Chip& main = view.canCancel ? cancel : take;
    const TextStyle hint{measures.between(11, 12), false, colours::grey};
    const std::string words = view.canCancel ? "or press escape" : "or press Return";
    const float hintLeft = static_cast<float>(main.getRight()) + measures.between(6, 14);
    if (!view.waits_dB && (view.canTake || view.canCancel) && hintLeft + pen.width(words, hint) < size.x - inset)
        pen.left(words, hintLeft, static_cast<float>(main.getBounds().getCentreY()) + 0.36f * hint.size,
                 size.x - inset - hintLeft, hint);

    const TextStyle name{measures.between(12, 14)};
    const float nameLeft = inset + pen.width("Calibrator", hint) + 10.0f;
    calibrator.setSize(name.size);
    const std::string none = view.calibrators.empty() ? "none in the library" : "choose the calibrator";
    const std::string chosen = view.calibrator.empty() ? none : view.calibrator;
    calibrator.setText(pen.shortened(chosen, size.x - inset - nameLeft - 26.0f, name));
    calibrator.setTitle(shown("Calibrator: " + chosen));
    calibrator.setVisible(true);
    calibrator.placeRight(size.x - inset + 5.0f, sum.calibratorMiddle, measures.between(18, 22));
    if (sum.levelMiddle)
        level.placeRight(size.x - inset + 5.0f, *sum.levelMiddle, measures.between(14, 18));
    pressure.setVisible(sum.pressureMiddle.has_value());
    if (sum.pressureMiddle) {
        const float width = measures.between(70, 84), height = measures.between(17, 22);
        pressure.setBounds(juce::Rectangle<float>(size.x - inset - measures.between(42, 54) - width,
                                                  *sum.pressureMiddle - height / 2.0f, width, height)
                               .toNearestInt());
    }
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
