// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitForm.h"

#include "Quantities/QuantityText.h"
#include "Screens/Pen.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr int longestText = 400; // characters; far beyond what anybody reads
constexpr float pitchBelow = 15.0f;
const TextStyle styleBelow{12.0f};

} // namespace

FitForm::FitForm()
{
    addAndMakeVisible(canvas);
    addAndMakeVisible(save);
    addAndMakeVisible(away);
    canvas.setTitle("What is asked for");
    save.onClick = [this] { take(); };
    away.onClick = [this] { leave(); };
}

void FitForm::ask(FitQuestion next)
{
    question = std::move(next);
    refusal.clear();
    fields.clear();
    for (const auto& wanted : question.fields) {
        auto field = std::make_unique<TextField>(wanted.label, 13.0f);
        addAndMakeVisible(*field); // first: a text takes the colour that its place in the window gives it
        field->setInputRestrictions(longestText);
        field->setWords(wanted.text);
        field->setHint(wanted.hint);
        field->onReturnKey = [this] { take(); };
        field->onEscapeKey = [this] { leave(); };
        fields.push_back(std::move(field));
    }
    if (onHeight)
        onHeight();
    resized();
    if (auto& first = *fields[question.first]; first.isShowing())
        first.grabKeyboardFocus();
}

void FitForm::leave()
{
    if (!isAsking())
        return;
    question = {};
    refusal.clear();
    if (onHeight)
        onHeight();
    if (onLeave)
        onLeave();
}

void FitForm::take()
{
    if (!isAsking())
        return;
    std::vector<std::string> typed;
    for (const auto& field : fields)
        typed.push_back(field->words());
    const auto asked = question; // taking may ask the next thing
    const auto refused = asked.take(typed);
    if (refused.empty() && !asked.again)
        return leave();
    refusal = refused;
    if (refused.empty())
        for (std::size_t i = 0; i < fields.size(); ++i)
            fields[i]->setWords(asked.fields[i].text);
    if (onHeight)
        onHeight();
    resized();
}

float FitForm::rows() const
{
    return std::ceil(static_cast<float>(question.fields.size() + (question.fields.size() > 1 ? 1 : 0)) / 2.0f);
}

float FitForm::heightBelow(float width) const
{
    const auto& words = wordsBelow();
    const int lines = words.empty() ? 0 : std::min(3, Pen(*fonts).linesFor(words, width - 16.0f, styleBelow));
    return pitchBelow * static_cast<float>(lines);
}

float FitForm::heightFor(float width) const
{
    return isAsking() ? measures.between(26, 32) + rows() * measures.between(27, 31) + heightBelow(width) + 4.0f : 0.0f;
}

// Title and buttons; below them the first field over the whole width, the others two and two.
void FitForm::resized()
{
    if (!isAsking() || getHeight() <= 0)
        return;
    canvas.setBounds(getLocalBounds());
    Pen pen(*fonts);
    const TextStyle label{measures.between(11, 12), false, colours::grey}, head{measures.between(12, 13), true};
    const float width = static_cast<float>(getWidth()), side = 8.0f, pitch = measures.between(27, 31);
    const float headHeight = measures.between(26, 32), fieldHeight = measures.between(23, 26);
    pen.line(side, 0.5f, width - side, 0.5f, colours::edge, 1.0f);
    save.setSize(measures.between(12, 13));
    away.setSize(measures.between(12, 13));
    away.placeRight(width - side + 5.0f, headHeight / 2.0f + 1.0f, measures.between(20, 24));
    save.placeRight(static_cast<float>(away.getX()) - 4.0f, headHeight / 2.0f + 1.0f, measures.between(20, 24));
    const float titleRoom = static_cast<float>(save.getX()) - 2.0f * side;
    pen.left(pen.shortened(question.title, titleRoom, head), side, headHeight / 2.0f + 5.0f, titleRoom, head);

    for (std::size_t i = 0; i < fields.size(); ++i) {
        const auto& text = question.fields[i].label;
        const bool whole = i == 0, left = i % 2 == 1;
        const float half = width / 2.0f;
        const float from = whole || left ? side : half + 4.0f, to = whole || !left ? width - side : half - 4.0f;
        const std::size_t row = (i + 1) / 2;
        const float y = headHeight + pitch * static_cast<float>(row);
        const float labelWidth = std::min(pen.width(text, label) + 6.0f, (to - from) * 0.6f);
        if (fields.size() > 1) {
            const float room = labelWidth - 4.0f;
            pen.left(pen.shortened(text, room, label), from, y + fieldHeight / 2.0f + 0.36f * label.size, room, label);
        }
        const float start = fields.size() > 1 ? from + labelWidth : from;
        fields[i]->setBounds(juce::Rectangle<float>(start, y, to - start, fieldHeight).toNearestInt());
    }
    if (!wordsBelow().empty())
        pen.paragraph(wordsBelow(), side, headHeight + pitch * rows() + 10.0f, width - 2.0f * side, pitchBelow, 3,
                      styleBelow);
    canvas.setPicture(std::move(pen.picture));
}

Outcome<double> typedDecibels(const std::string& typed)
{
    constexpr double least_dB = -200.0, most_dB = 300.0;
    std::string text(trimmed(typed));
    const bool oneComma = std::count(text.begin(), text.end(), ',') == 1 && text.find('.') == std::string::npos;
    if (oneComma)
        std::replace(text.begin(), text.end(), ',', '.');
    if (!text.ends_with("dB"))
        text += "dB";
    const auto level = parseDecibels(text);
    if (!level || !(*level >= least_dB && *level <= most_dB))
        return Fault{couplet::quoted(typed) + " is no level; write it in dB within \u2212200 and 300, such as 115.29."};
    return *level;
}

} // namespace couplet
