// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/SimulatedBar.h"

#include "Screens/Lists.h"
#include "Screens/Pen.h"

namespace couplet {
namespace {

using What = OnCoupler::What;

constexpr float row = 18.0f, chipHeight = 24.0f;

} // namespace

SimulatedBar::SimulatedBar(Controls& c) : controls(c)
{
    const std::initializer_list<juce::Component*> children{&canvas, &nothing, &calibrator, &earphone,
                                                           &left,   &right,   &drive,      &leave};
    for (auto* child : children)
        addAndMakeVisible(child);
    canvas.setTitle("On the simulated coupler");
    leave.setTitle("Leave the simulated bench");
    nothing.onClick = [this] { put({}); };
    calibrator.onClick = [this] { put(OnCoupler{What::calibrator, 0, Side::left, {}}); };
    earphone.onClick = [this] { chooseEarphone(); };
    left.onClick = [this] {
        put({.what = What::earphone, .earphone = on.earphone, .side = Side::left, .drive = on.drive});
    };
    right.onClick = [this] {
        put({.what = What::earphone, .earphone = on.earphone, .side = Side::right, .drive = on.drive});
    };
    leave.onClick = [this] { controls.simulate(false, on); };
    drive.onVolts = [this](std::optional<Volts> volts) {
        put({.what = What::earphone, .earphone = on.earphone, .side = on.side, .drive = volts});
    };
    drive.onRefusal = [this](const std::string& sentence) {
        if (refusal == sentence)
            return;
        refusal = sentence;
        if (onHeight)
            onHeight();
        drawTexts();
    };
}

void SimulatedBar::put(OnCoupler next)
{
    controls.simulate(true, next);
}

void SimulatedBar::chooseEarphone()
{
    juce::PopupMenu list;
    const auto earphones = demoScenario().earphones;
    for (std::size_t i = 0; i < earphones.size(); ++i)
        list.addItem(1 + static_cast<int>(i), juce::String(earphones[i].name.data(), earphones[i].name.size()), true,
                     on.what == What::earphone && on.earphone == i);
    openList(list, earphone, [this](int id) {
        put({.what = What::earphone, .earphone = static_cast<std::size_t>(id - 1), .side = on.side, .drive = {}});
    });
}

void SimulatedBar::show(const LiveView& view)
{
    there = view.simulated;
    on = view.onSimulatedCoupler;
    const bool worn = on.what == What::earphone;
    const auto earphones = demoScenario().earphones;
    const bool known = worn && on.earphone < earphones.size();
    nothing.setOn(on.what == What::nothing);
    calibrator.setOn(on.what == What::calibrator);
    earphone.setText(known ? std::string(earphones[on.earphone].name) : "an earphone");
    left.setOn(worn && on.side == Side::left);
    right.setOn(worn && on.side == Side::right);
    left.setEnabled(worn);
    right.setEnabled(worn);
    drive.setEnabled(worn);
    drive.show(known ? std::optional(on.drive.value_or(earphones[on.earphone].drive)) : std::nullopt);
}

void SimulatedBar::resized()
{
    float x = 12.0f + (getWidth() >= 900 ? 168.0f : 66.0f);
    const auto place = [&](Chip& chip, float gap) {
        chip.placeLeft(x, row, chipHeight);
        x += static_cast<float>(chip.getWidth()) + gap;
    };
    place(nothing, 2.0f);
    place(calibrator, 8.0f);
    earphone.setBounds(juce::Rectangle<float>(x, row - chipHeight / 2.0f, 104.0f, chipHeight).toNearestInt());
    x += 110.0f;
    place(left, 2.0f);
    place(right, 12.0f);
    x += 40.0f;
    drive.setBounds(juce::Rectangle<float>(x, row - 12.0f, 90.0f, 24.0f).toNearestInt());
    leave.placeRight(static_cast<float>(getWidth()) - 8.0f, row, chipHeight);
    drawTexts();
}

void SimulatedBar::drawTexts()
{
    canvas.setBounds(getLocalBounds());
    Pen pen(*fonts);
    const auto area = getLocalBounds().toFloat();
    pen.box(area.reduced(0.5f), 6.0f, colours::card, colours::edge);
    const TextStyle grey{12.0f, false, colours::grey};
    const float nothingLeft = static_cast<float>(nothing.getX()), driveLeft = static_cast<float>(drive.getX());
    pen.left(getWidth() >= 900 ? "On the simulated coupler:" : "Simulated:", 12.0f, row + 4.5f, nothingLeft - 14.0f,
             grey);
    pen.right("drive", driveLeft - 6.0f, row + 4.5f, 40.0f, grey);
    if (!refusal.empty())
        pen.left(refusal, 12.0f, 47.0f, area.getWidth() - 24.0f, {12.0f});
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
