// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/EarphoneChoices.h"

#include "Screens/Lists.h"
#include "Screens/Pen.h"
#include "Screens/Words.h"

#include <fmt/format.h>

namespace couplet {
namespace {

constexpr float labelBase = 17.0f, row = 34.0f, chipHeight = 24.0f, inset = 16.0f;

} // namespace

EarphoneChoices::EarphoneChoices(Controls& c) : controls(c)
{
    addAndMakeVisible(canvas);
    canvas.setTitle("What is on the coupler");
    for (Chip* chip : {&earphone, &left, &right, &neither})
        addAndMakeVisible(chip);
    addAndMakeVisible(drive);
    addAndMakeVisible(close);
    earphone.onClick = [this] { chooseEarphone(); };
    left.onClick = [this] { controls.chooseSide("left"); };
    right.onClick = [this] { controls.chooseSide("right"); };
    neither.onClick = [this] { controls.chooseSide(""); };
    close.onClick = [this] {
        if (onClose)
            onClose();
    };
    drive.onVolts = [this](std::optional<Volts> volts) { controls.setDrive(volts); };
    drive.onRefusal = [this](const std::string& sentence) {
        if (refusal == sentence)
            return;
        refusal = sentence;
        if (onHeight)
            onHeight();
        drawTexts();
    };
}

void EarphoneChoices::show(const LiveView& view)
{
    names = view.earphoneNames;
    slot = view.earphoneSlot;
    const Pen pen(*fonts);
    const std::string name = view.reading.earphone.empty() ? "choose an earphone" : view.reading.earphone;
    earphone.setText(pen.shortened(name, static_cast<float>(earphone.getWidth()) - 28.0f, {13.0f}));
    earphone.setTitle(juce::String::fromUTF8(("Earphone: " + name).c_str()));
    earphone.setTooltip(juce::String::fromUTF8(name.c_str()));
    left.setOn(view.side == "left");
    right.setOn(view.side == "right");
    neither.setOn(view.side.empty());
    const bool sensed = view.reading.drive && view.reading.drive->sensed;
    drive.setEnabled(!sensed);
    drive.show(view.reading.drive ? std::optional(view.reading.drive->voltage) : std::nullopt);
    const std::string next = sensed ? "drive, sensed" : "drive, V RMS";
    if (next == driveText)
        return;
    driveText = next;
    drawTexts();
}

juce::PopupMenu EarphoneChoices::menu() const
{
    juce::PopupMenu list;
    for (std::size_t i = 0; i < names.size(); ++i)
        if (!names[i].empty()) {
            const int number = static_cast<int>(i) + 1;
            list.addItem(1 + number, juce::String::fromUTF8(fmt::format("{}   {}", number, names[i]).c_str()), true,
                         number == slot);
        }
    if (list.getNumItems() == 0)
        list.addItem(-1, "no earphone in this session yet: 'couplet library add' brings one", false);
    list.addSeparator();
    list.addItem(1, "no earphone", true, slot == 0);
    return list;
}

void EarphoneChoices::chooseEarphone()
{
    openList(menu(), earphone, [this](int id) { controls.chooseEarphoneSlot(id - 1); });
}

bool EarphoneChoices::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::escapeKey) || !onClose)
        return false;
    onClose();
    return true;
}

void EarphoneChoices::resized()
{
    const float nameRoom = std::min(330.0f, static_cast<float>(getWidth()) - 450.0f);
    earphone.setBounds(juce::Rectangle<float>(inset - 5.0f, row - 12.0f, nameRoom, chipHeight).toNearestInt());
    float x = inset + nameRoom + 12.0f;
    for (Chip* chip : {&left, &right, &neither}) {
        chip->placeLeft(x, row, chipHeight);
        x += static_cast<float>(chip->getWidth()) + 2.0f;
    }
    drive.setBounds(juce::Rectangle<float>(x + 16.0f, row - 12.0f, 100.0f, 24.0f).toNearestInt());
    close.placeRight(static_cast<float>(getWidth()) - inset + 5.0f, row, chipHeight);
    drawTexts();
}

void EarphoneChoices::drawTexts()
{
    canvas.setBounds(getLocalBounds());
    Pen pen(*fonts);
    const auto area = getLocalBounds().toFloat();
    pen.box(area.reduced(0.5f), 6.0f, colours::card, colours::measured);
    const TextStyle label{12.0f, false, colours::grey};
    const auto above = [&](const std::string& text, const juce::Component& what, float shift) {
        pen.left(text, static_cast<float>(what.getX()) + shift, labelBase, pen.width(text, label), label);
    };
    above("earphone", earphone, 5.0f);
    above("side", left, 11.0f);
    above(driveText, drive, 0.0f);
    if (!refusal.empty())
        pen.left(refusal, inset, 63.0f, area.getWidth() - 2.0f * inset, {12.0f});
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
