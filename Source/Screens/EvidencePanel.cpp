// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/EvidencePanel.h"

#include "Screens/Chip.h"
#include "Screens/NumberCanvas.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr float inset = 16.0f;

const char* const firstSteps[] = {
    "Put the bare microphone into the calibrator and read it: press the adapter home, wait two seconds, read; then "
    "take "
    "it out and do so again, four times. Each adapter, shim or sleeve is a fitting of its own.",
    "Put the same microphone behind a coupler like this one, and read it five times: through the coupler.",
    "Earphones whose rating is known may help to choose. Keep one aside, to prove the correction with."};

} // namespace

EvidencePanel::EvidencePanel(const FitView& v) : view(v)
{
    addAndMakeVisible(canvas);
    addAndMakeVisible(words);
    canvas.setTitle("What each piece of evidence says");
    words.setTitle("Figures of the evidence pointed at");
    setTitle("What each piece of evidence says");
    setWantsKeyboardFocus(true);
}

void EvidencePanel::show(const Measures& m)
{
    measures = m;
    items = evidenceItems(view);
    if (pointed && *pointed > items.size())
        pointed.reset();
    draw();
}

void EvidencePanel::resized()
{
    canvas.setBounds(getLocalBounds());
    words.setBounds(getLocalBounds().removeFromTop(juce::roundToInt(measures.between(25, 36))));
    draw();
}

EvidencePlot EvidencePanel::plot() const
{
    return EvidencePlot::within(items, *view.fit, size(), measures);
}

void EvidencePanel::draw()
{
    if (getHeight() <= 0)
        return;
    if (!view.fit) {
        pointed.reset();
        drawFirstSteps();
    }
    else {
        canvas.setPicture(evidencePicture(items, *view.fit, plot(), pointed, measures, *fonts));
    }
    drawWords();
}

void EvidencePanel::drawFirstSteps()
{
    Pen pen(*fonts);
    const TextStyle style{measures.between(12, 14)};
    const float room = size().x - 2.0f * inset - 20.0f, pitch = style.size + measures.between(3, 6);
    float y = measures.between(40, 64);
    int number = 1;
    for (const char* step : firstSteps) {
        const auto lines = static_cast<float>(pen.linesFor(step, room, style));
        if (y + pitch * (lines - 1.0f) + 4.0f > size().y)
            break;
        pen.left(fmt::format("{}", number++), inset, y, 18.0f, {style.size, true});
        y += pitch * static_cast<float>(pen.paragraph(step, inset + 20.0f, y, room, pitch, 12, style));
        y += measures.between(3, 10);
    }
    canvas.setPicture(std::move(pen.picture));
}

void EvidencePanel::drawWords()
{
    Pen pen(*fonts);
    const TextStyle grey{measures.between(11, 12), false, colours::grey}, ink{measures.between(11, 12)};
    const float base = measures.between(17, 24), right = size().x - inset, room = right - inset;
    if (!pointed) {
        const std::string title = view.fit ? "What each piece of evidence says" : "What to read";
        std::string end = view.fit ? "correction, dB" : "";
        if (view.simulated)
            end = end.empty() ? "simulated" : "simulated · dB";
        const float endWidth = pen.width(end, grey);
        pen.left(pen.shortened(title, room - endWidth - 10.0f, grey), inset, base, room - endWidth - 10.0f, grey);
        pen.right(end, right, base, endWidth + 1.0f, grey);
    }
    else {
        const auto numbers = evidenceNumbers(items, *view.fit, *pointed);
        std::string text;
        for (const auto& number : numbers)
            text += (text.empty() ? "" : number.what == "to" ? " to " : ", " + number.what + " ") + number.text;
        if (hasKeyboardFocus(true) && figure < numbers.size())
            text = numbers[figure].what + (numbers[figure].what.empty() ? "says " : " ") + numbers[figure].text;
        text += " dB";
        const float width = pen.width(text, ink);
        const std::string name = *pointed < items.size() ? items[*pointed].name : "what remains";
        const float nameRoom = room - width - 12.0f;
        if (nameRoom > 30.0f)
            pen.left(pen.shortened(name, nameRoom, ink), inset, base, nameRoom, ink);
        pen.right(pen.shortened(text, room, ink), right, base, room, ink);
    }
    if (hasKeyboardFocus(true))
        drawFocusRing(pen, juce::Rectangle<float>(size().x, static_cast<float>(words.getHeight())).reduced(2.0f));
    words.setPicture(std::move(pen.picture));
}

void EvidencePanel::pointAt(std::optional<std::size_t> item, std::size_t number)
{
    if (item == pointed && number == figure)
        return;
    const bool moved = item != pointed;
    pointed = item;
    figure = number;
    if (moved)
        draw();
    else
        drawWords();
}

void EvidencePanel::mouseMove(const juce::MouseEvent& event)
{
    if (view.fit)
        pointAt(plot().itemAt(event.position, items.size()), 0);
}

void EvidencePanel::mouseExit(const juce::MouseEvent&)
{
    pointAt({}, 0);
}

void EvidencePanel::mouseDown(const juce::MouseEvent& event)
{
    mouseMove(event);
    if (!event.mods.isPopupMenu() || !pointed || !onCopy)
        return;
    const auto axes = plot();
    const auto numbers = evidenceNumbers(items, *view.fit, *pointed);
    const auto distance = [&](const EvidenceNumber& n) { return std::abs(axes.x(n.c_dB) - event.position.x); };
    // What it says stands first, and wins over figures in the same place.
    const auto nearest = std::min_element(numbers.begin(), numbers.end(),
                                          [&](const auto& a, const auto& b) { return distance(a) < distance(b); });
    onCopy(nearest->text);
}

bool EvidencePanel::keyPressed(const juce::KeyPress& key)
{
    if (!view.fit)
        return false;
    const std::size_t now = pointed.value_or(items.size());
    const auto numbers = evidenceNumbers(items, *view.fit, now);
    if (key.isKeyCode(juce::KeyPress::downKey))
        pointAt(pointed ? std::min(now + 1, items.size()) : 0, 0);
    else if (key.isKeyCode(juce::KeyPress::upKey))
        pointAt(pointed && now > 0 ? now - 1 : 0, 0);
    else if (key.isKeyCode(juce::KeyPress::rightKey))
        pointAt(now, std::min(figure + 1, numbers.size() - 1));
    else if (key.isKeyCode(juce::KeyPress::leftKey))
        pointAt(now, figure > 0 ? figure - 1 : 0);
    else if (isCopyKey(key) && onCopy)
        onCopy(numbers[std::min(figure, numbers.size() - 1)].text);
    else
        return false;
    return true;
}

void EvidencePanel::focusGained(FocusChangeType cause)
{
    if (view.fit && cause != focusChangedByMouseClick && !pointed)
        pointed = items.size();
    draw();
}

void EvidencePanel::focusLost(FocusChangeType)
{
    pointed.reset();
    draw();
}

} // namespace couplet
