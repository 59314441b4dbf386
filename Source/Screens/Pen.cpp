// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Pen.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

namespace couplet {
namespace {

// A unit is not parted from its number by the end of a line.
bool isUnit(const std::string& word)
{
    return word.starts_with("%") || word.starts_with("dB") || word.starts_with("Hz");
}
bool endsInDigit(const std::string& text)
{
    return !text.empty() && text.back() >= '0' && text.back() <= '9';
}

// The last level in a name, or else its last number: "114.02 dB", "94dB", "4231"; empty where it has none.
std::string numberWithUnit(const std::string& text)
{
    std::istringstream words(text);
    std::string level, number, before;
    for (std::string word; words >> word; before = word) {
        const bool digits = std::any_of(word.begin(), word.end(), [](char c) { return c >= '0' && c <= '9'; });
        if (isUnit(word) && endsInDigit(before))
            level = fmt::format("{} {}", before, word);
        else if (digits && word.find("dB") != std::string::npos)
            level = word;
        else if (digits)
            number = word;
    }
    const auto& found = level.empty() ? number : level;
    return text.rfind(found) == std::string::npos ? std::string() : found; // other blanks stand between the two
}

} // namespace

void Pen::add(const std::string& text, Align align, float left, float baseline, float room, const TextStyle& style)
{
    if (text.empty())
        return;
    const juce::Rectangle<float> box(left, baseline - Fonts::ascent(style), room,
                                     Fonts::ascent(style) + Fonts::descent(style));
    picture.texts.push_back({text, style, align, box, fonts.width(text, style)});
}

void Pen::left(const std::string& text, float x, float baseline, float room, const TextStyle& style)
{
    add(text, Align::left, x, baseline, room, style);
}

void Pen::right(const std::string& text, float x, float baseline, float room, const TextStyle& style)
{
    add(text, Align::right, x - room, baseline, room, style);
}

void Pen::centre(const std::string& text, float x, float baseline, float room, const TextStyle& style)
{
    add(text, Align::centre, x - room / 2.0f, baseline, room, style);
}

std::vector<std::string> Pen::linesOf(const std::string& text, float room, const TextStyle& style) const
{
    std::vector<std::string> lines;
    std::istringstream words(text);
    for (std::string word; words >> word;) {
        word = shortened(word, room, style); // a word longer than the room is a name
        const std::string longer = lines.empty() ? word : lines.back() + " " + word;
        if (!lines.empty() && fonts.width(longer, style) <= room) {
            lines.back() = longer;
            continue;
        }
        const auto space = lines.empty() ? std::string::npos : lines.back().rfind(' ');
        if (space != std::string::npos && isUnit(word) && endsInDigit(lines.back())) {
            word.insert(0, lines.back().substr(space + 1) + " ");
            lines.back().resize(space);
        }
        lines.push_back(word);
    }
    return lines;
}

int Pen::linesFor(const std::string& text, float room, const TextStyle& style) const
{
    return static_cast<int>(linesOf(text, room, style).size());
}

int Pen::paragraph(const std::string& text, float x, float baseline, float room, float pitch, int most,
                   const TextStyle& style)
{
    const auto lines = linesOf(text, room, style);
    const int count = std::min(most, static_cast<int>(lines.size()));
    for (int i = 0; i < count; ++i)
        left(lines[static_cast<std::size_t>(i)], x, baseline + pitch * static_cast<float>(i), room, style);
    return count;
}

std::string Pen::shortened(const std::string& text, float room, const TextStyle& style) const
{
    if (fonts.width(text, style) <= room)
        return text;
    const auto whole = juce::String::fromUTF8(text.c_str());
    // Both ends tell names apart: "Ear simulator, left bench" and "Ear simulator, right bench".
    int kept = whole.length() - 1;
    std::string result;
    do {
        const int head = (kept + 1) / 2;
        result = (whole.substring(0, head).trimEnd() + juce::String::fromUTF8("\u2026") +
                  whole.getLastCharacters(kept - head).trimStart())
                     .toStdString();
        --kept;
    } while (kept > 1 && fonts.width(result, style) > room);
    return result;
}

std::string Pen::shortenedAroundNumber(const std::string& text, float room, const TextStyle& style) const
{
    const auto number = numberWithUnit(text);
    if (number.empty() || fonts.width(text, style) <= room || fonts.width(number, style) > room)
        return shortened(text, room, style);
    const auto name = juce::String::fromUTF8(text.substr(0, text.rfind(number)).c_str()).trimEnd();
    std::string result = number;
    for (int kept = 1; kept < name.length(); ++kept) {
        const auto longer = name.substring(0, kept).trimEnd().toStdString() + "\u2026 " + number;
        if (fonts.width(longer, style) > room)
            break;
        result = longer;
    }
    return result;
}

void Pen::line(float x1, float y1, float x2, float y2, juce::Colour colour, float thickness)
{
    juce::Path path;
    path.addLineSegment({x1, y1, x2, y2}, thickness);
    fill(path, colour);
}

void Pen::dashes(float x1, float x2, float y, juce::Colour colour, float thickness)
{
    constexpr float dash = 6.0f, gap = 4.0f;
    juce::Path path;
    const int count = static_cast<int>(std::ceil((x2 - x1) / (dash + gap)));
    for (int i = 0; i < count; ++i) {
        const float x = x1 + (dash + gap) * static_cast<float>(i);
        path.addRectangle(x, y - thickness / 2.0f, std::min(dash, x2 - x), thickness);
    }
    fill(path, colour);
}

void Pen::box(juce::Rectangle<float> area, float corner, juce::Colour inside, juce::Colour edge)
{
    juce::Path path;
    path.addRoundedRectangle(area, corner);
    fill(path, inside);
    stroke(path, edge, 1.0f);
}

void Pen::fill(const juce::Path& path, juce::Colour colour)
{
    picture.shapes.push_back({path, colour, 0.0f});
}

void Pen::stroke(const juce::Path& path, juce::Colour colour, float thickness)
{
    picture.shapes.push_back({path, colour, thickness});
}

void Pen::mark(Mark which, float x, float middle, float size, juce::Colour colour)
{
    const juce::Rectangle<float> area(x, middle - size / 2.0f, size, size);
    for (auto& stroke : markShapes(which, area, colour))
        picture.shapes.push_back(std::move(stroke));
}

float Pen::tag(const std::string& text, float right, float baseline, const TextStyle& style, juce::Colour background)
{
    const float inner = fonts.width(text, style), outer = tagWidth(inner), side = (outer - inner) / 2.0f;
    const juce::Rectangle<float> area(right - outer, baseline - Fonts::ascent(style) - 2.0f, outer,
                                      Fonts::ascent(style) + Fonts::descent(style) + 4.0f);
    box(area, area.getHeight() / 2.0f, background, style.colour);
    left(text, area.getX() + side, baseline, inner, style);
    return area.getWidth();
}

} // namespace couplet
