// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/TrendPanel.h"

#include "Quantities/QuantityText.h"
#include "Screens/Lists.h"
#include "Screens/Pen.h"
#include "Screens/TrendPicture.h"
#include "Screens/Words.h"

namespace couplet {
namespace {

constexpr float inset = 16.0f, chipHeight = 20.0f, betweenNumbers = 14.0f;

// Each number has the room of the widest that is usual: nothing moves when a digit changes.
float numberRoom(const Pen& pen, const TextStyle& style)
{
    return pen.width("\u2212100.00", style);
}

std::string textOf(const std::optional<double>& level)
{
    return level ? levelText(*level) : "\u2013";
}

} // namespace

TrendPanel::TrendPanel(Controls& c) : controls(c)
{
    addAndMakeVisible(trend);
    addAndMakeVisible(numbers);
    trend.setTitle("Last 60 seconds");
    numbers.setTitle("Broadband level");
    for (Chip* chip : {&weighting, &time, &reset})
        addAndMakeVisible(chip);
    weighting.setTooltip("frequency weighting of the broadband level: A, C or Z");
    time.setTooltip("time weighting: Fast 125 ms, Slow 1 s");
    reset.setTitle("Reset maximum and minimum");
    weighting.onClick = [this] { chooseWeighting(); };
    time.onClick = [this] {
        controls.setTimeWeighting(shownTime == TimeWeighting::fast ? TimeWeighting::slow : TimeWeighting::fast);
    };
    reset.onClick = [this] { controls.resetExtremes(); };
}

void TrendPanel::chooseWeighting()
{
    juce::PopupMenu list;
    for (const auto w : {FrequencyWeighting::A, FrequencyWeighting::C, FrequencyWeighting::Z})
        list.addItem(1 + static_cast<int>(w), juce::String(weightingWords(w)), true, w == shownWeighting);
    openList(list, weighting, [this](int id) { controls.setWeighting(static_cast<FrequencyWeighting>(id - 1)); });
}

void TrendPanel::show(const LiveView& view, const Measures& m)
{
    const bool restyled = !(m == measures);
    measures = m;
    shownWeighting = view.weighting;
    shownTime = view.time;
    weighting.setText(weightingWords(view.weighting));
    time.setText(timeWords(view.time));
    now_dB = hearing(view) == Hearing::noAudio ? std::nullopt : view.weighted_dB;
    highest_dB = view.weightedMax_dB;
    lowest_dB = view.weightedMin_dB;
    if (restyled)
        resized();
    trend.setPicture(trendPicture(view, getLocalBounds().getBottomRight().toFloat(),
                                  {legendStart, static_cast<float>(weighting.getX()) - 8.0f}, m, *fonts));
    numbers.setPicture(extremes());
}

void TrendPanel::resized()
{
    trend.setBounds(getLocalBounds());
    numbers.setBounds(getLocalBounds().removeFromTop(30));
    const float middle = measures.between(13, 18);
    for (Chip* chip : {&weighting, &time, &reset})
        chip->setSize(measures.between(11, 12));
    reset.placeRight(static_cast<float>(getWidth()) - inset + 5.0f, middle, chipHeight);
    const float left = static_cast<float>(reset.getX()) - numbersWidth();
    time.setBounds(juce::Rectangle<float>(left - 42.0f, middle - 10.0f, 40.0f, chipHeight).toNearestInt());
    weighting.placeRight(static_cast<float>(time.getX()) - 2.0f, middle, chipHeight);
    numbers.setPicture(extremes());
}

float TrendPanel::numbersWidth() const
{
    const Pen pen(*fonts);
    const TextStyle style{measures.between(11, 12)};
    return pen.width("now max min ", style) + 3.0f * (numberRoom(pen, style) + betweenNumbers);
}

Picture TrendPanel::extremes() const
{
    Pen pen(*fonts);
    const TextStyle number{measures.between(11, 12)}, label{number.size, false, colours::grey};
    const float room = numberRoom(pen, number), base = measures.between(17, 22);
    float x = static_cast<float>(reset.getX()) - numbersWidth() + betweenNumbers;
    const auto entry = [&](const std::string& name, const std::optional<double>& level) {
        const float nameRoom = pen.width(name + " ", label);
        pen.left(name, x, base, nameRoom, label);
        pen.left(textOf(level), x + nameRoom, base, room, number);
        x += nameRoom + room + betweenNumbers;
    };
    entry("now", now_dB);
    entry("max", highest_dB);
    entry("min", lowest_dB);
    return pen.picture;
}

} // namespace couplet
