// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FarPicture.h"

#include "Quantities/QuantityText.h"
#include "Screens/Pen.h"
#include "Screens/Words.h"

#include <fmt/format.h>

#include <cmath>

namespace couplet {
namespace {

// Sized for a number of its kind and not for its digits, so that it does not breathe with them.
std::string sameWidth(const std::string& number)
{
    std::string widest = number;
    for (char& c : widest)
        if (c >= '0' && c <= '9')
            c = '0';
    return widest;
}

float sizeFilling(const Pen& pen, const std::string& text, float width, float height)
{
    constexpr float probe = 100.0f, digitHeight = 0.74f; // of the em
    const float byWidth = probe * width / pen.width(text, {probe, true});
    return std::floor(std::min(byWidth, height / digitHeight));
}

void tags(Pen& pen, const LiveView& view, juce::Point<float> size)
{
    const float text = std::max(12.0f, size.y / 40.0f);
    float right = size.x - 28.0f;
    const auto tag = [&](const char* word) {
        right -= pen.tag(word, right, 1.9f * text, {text}, colours::paper) + 8.0f;
    };
    if (view.hold)
        tag("held");
    if (view.simulated)
        tag("simulated");
    if (view.loopMuted)
        tag("output muted");
    if (view.reading.tone.clippedSamples > 0 && hearing(view) != Hearing::noAudio)
        tag("clipped");
    const TextStyle style{text, false, colours::grey};
    pen.left(pen.shortened(couplerWords(view), right - 40.0f, style), 28.0f, 1.9f * text, right - 40.0f, style);
}

void state(Pen& pen, const LiveView& view, juce::Point<float> size, float text)
{
    const MarkedWords reference = referenceWords(view);
    const TextStyle style{text, false, colours::ink};
    const float base = size.y - 1.2f * text;
    pen.mark(reference.mark, 28.0f, base - 0.35f * text, 0.8f * text, colours::ink);
    pen.left(reference.words, 28.0f + 1.2f * text, base, size.x / 2.0f, style);
    pen.right("F or a click: back", size.x - 28.0f, base, size.x / 2.0f - 60.0f, {text, false, colours::grey});
}

void verdict(Pen& pen, const MarkedWords& words, float x, float base, float text)
{
    const TextStyle style{text, words.mark == Mark::differs};
    const float width = pen.width(words.words, style), markSize = 0.7f * text;
    pen.left(words.words, x - width, base, width, style);
    pen.mark(words.mark, x - width - 1.5f * markSize, base - 0.35f * text, markSize, colours::ink);
}

} // namespace

Picture farPicture(const LiveView& view, juce::Point<float> size, const Fonts& fonts)
{
    Pen pen(fonts);
    const float margin = 28.0f, width = size.x - 2.0f * margin;
    tags(pen, view, size);

    const Hearing heard = hearing(view);
    const std::string number =
        heard == Hearing::level ? oneDecimalText(view.reading.measured->level_dB) : silenceWords(heard);
    const float digits = sizeFilling(pen, sameWidth(number), width, 0.60f * size.y);
    const float top = 0.09f * size.y, room = 0.66f * size.y;
    const float base = top + room / 2.0f + 0.37f * digits;
    pen.centre(number, size.x / 2.0f, base, size.x, {digits, true, colours::measured});

    const float large = std::floor(std::min(size.y * 0.075f, size.x * 0.052f));
    const float lower = 0.87f * size.y;
    if (heard == Hearing::level)
        pen.left(unitOf(view), margin, lower, width / 3.0f, {large, false, colours::measured});
    verdict(pen, verdictWords(view), size.x - margin, lower, large);
    state(pen, view, size, std::max(12.0f, size.y / 44.0f));
    return pen.picture;
}

} // namespace couplet
