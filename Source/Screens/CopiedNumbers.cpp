// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/CopiedNumbers.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr float digitHeight = 0.75f, belowLine = 0.2f; // em, of the theme's typeface
constexpr juce::juce_wchar minusSign = 0x2212, plusMinus = 0x00b1;

bool isDigit(juce::juce_wchar c)
{
    return c >= '0' && c <= '9';
}

// What may stand around a number without being of it.
bool isBefore(juce::juce_wchar c)
{
    return c == '(' || c == '\'' || c == plusMinus;
}
bool isAfter(juce::juce_wchar c)
{
    return c == ')' || c == '\'' || c == ',' || c == '.' || c == ';' || c == ':' || c == '?' || c == '%';
}

bool isNumber(const juce::String& word)
{
    int digits = 0, points = 0;
    for (int i = 0; i < word.length(); ++i) {
        const auto c = word[i];
        if (isDigit(c))
            ++digits;
        else if (c == '.')
            ++points;
        else if (i > 0 || (c != minusSign && c != '-' && c != '+'))
            return false;
    }
    return digits > 0 && points <= 1;
}

void addNumbersOf(std::vector<DrawnNumber>& all, const DrawnText& text, const Fonts& fonts)
{
    const auto whole = juce::String::fromUTF8(text.text.c_str());
    if (!whole.containsAnyOf("0123456789"))
        return;
    const auto font = fonts.font(text.style, whole);
    const int length = whole.length();
    for (int begin = 0; begin < length;) {
        int end = begin;
        while (end < length && whole[end] != ' ')
            ++end;
        int from = begin, to = end;
        while (from < to && isBefore(whole[from]))
            ++from;
        while (to > from && isAfter(whole[to - 1]))
            --to;
        const auto word = whole.substring(from, to);
        if (isNumber(word)) {
            const float left = text.left() + font.getStringWidthFloat(whole.substring(0, from));
            const float wordLeft = text.left() + font.getStringWidthFloat(whole.substring(0, begin));
            const bool below = whole.substring(begin, end).containsAnyOf("(),;");
            const juce::Rectangle<float> letters(wordLeft, text.baseline() - digitHeight * text.style.size,
                                                 font.getStringWidthFloat(whole.substring(begin, end)),
                                                 (digitHeight + (below ? belowLine : 0.0f)) * text.style.size);
            all.push_back(
                {word.toStdString(), text.ink().withX(left).withWidth(font.getStringWidthFloat(word)), letters});
        }
        begin = end + 1;
    }
}

} // namespace

std::vector<DrawnNumber> numbersIn(const Picture& picture, const Fonts& fonts)
{
    std::vector<DrawnNumber> all;
    for (const auto& text : picture.texts)
        addNumbersOf(all, text, fonts);
    return all;
}

std::optional<DrawnNumber> numberAt(const Picture& picture, juce::Point<float> point, const Fonts& fonts)
{
    constexpr float around = 6.0f; // pixels beside a text that still mean it
    for (const auto& text : picture.texts) {
        if (!text.ink().expanded(around, 3.0f).contains(point))
            continue;
        std::vector<DrawnNumber> numbers;
        addNumbersOf(numbers, text, fonts);
        const auto distance = [&point](const DrawnNumber& n) { return std::abs(n.area.getCentreX() - point.x); };
        const auto nearest = std::min_element(numbers.begin(), numbers.end(),
                                              [&](const auto& a, const auto& b) { return distance(a) < distance(b); });
        if (nearest != numbers.end())
            return *nearest;
    }
    return std::nullopt;
}

std::string copiedText(const std::string& number)
{
    return juce::String::fromUTF8(number.c_str()).replaceCharacter(minusSign, '-').toStdString();
}

void ringNumber(Picture& picture, const DrawnNumber& number)
{
    juce::Path ring;
    // In the middle of the blank beside it: it touches neither the number nor a neighbour.
    ring.addRoundedRectangle(number.word.expanded(2.0f), 3.0f);
    picture.shapes.push_back({ring, colours::measured, 1.4f});
}

} // namespace couplet
