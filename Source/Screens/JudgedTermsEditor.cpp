// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/JudgedTermsEditor.h"

#include "Screens/Pen.h"

#include <fmt/format.h>

#include <cmath>

namespace couplet {
namespace {

struct Term
{
    const char *label, *title, *unit;
    double assumed;
};

constexpr Term terms[JudgedTermsEditor::count] = {
    {"seating it again", "Seating of the calibrator, u in dB", "dB", assumedSeating_dB},
    {"drift since", "Drift since the reference, u in dB", "dB", assumedDrift_dB},
    {"linearity", "Linearity of the input, u in dB", "dB", assumedLinearity_dB},
    {"barometer", "Barometer, u in kPa", "kPa", assumedBarometer.value},
    {"response, no table", "Microphone response without a table, u in dB", "dB", assumedResponse_dB},
    {"one insertion", "One insertion of an earphone, u in dB", "dB", assumedInsertion_dB}};
constexpr int perLine = 3, longest = 16;
constexpr double largest = 20.0; // dB or kPa; beyond is a slip of the finger
constexpr const char* advice = "Standard uncertainties u. What stands in grey is assumed and counts where nothing is "
                               "typed. What belongs to the offset counts from the next reference on.";

std::array<std::optional<double>, JudgedTermsEditor::count> valuesOf(const JudgedTerms& j)
{
    return {j.seating_dB,   j.drift_dB,
            j.linearity_dB, j.barometer ? std::optional(j.barometer->value) : std::nullopt,
            j.response_dB,  j.insertion_dB};
}

std::string textOf(const std::optional<double>& value)
{
    return value ? fmt::format("{:g}", *value) : std::string();
}

// Absent: it is none.
std::optional<double> numberOf(juce::String typed, const char* unit)
{
    typed = typed.trim().replaceCharacter(',', '.');
    if (typed.endsWithIgnoreCase(unit))
        typed = typed.dropLastCharacters(juce::String(unit).length()).trim();
    const bool isNumber = typed.containsAnyOf("0123456789") && typed.containsOnly("0123456789.") &&
                          typed.indexOfChar('.') == typed.lastIndexOfChar('.');
    const double value = typed.getDoubleValue();
    return isNumber && std::isfinite(value) && value <= largest ? std::optional(value) : std::nullopt;
}

} // namespace

JudgedTermsEditor::JudgedTermsEditor()
{
    addAndMakeVisible(canvas);
    canvas.setTitle("Terms that are judged");
    for (std::size_t i = 0; i < count; ++i) {
        fields[i] = std::make_unique<TextField>(terms[i].title);
        fields[i]->setInputRestrictions(longest);
        fields[i]->setHint(fmt::format("{:g}", terms[i].assumed));
        fields[i]->setTooltip(juce::String(terms[i].title));
        fields[i]->onReturnKey = [this] { take(); };
        fields[i]->onEscapeKey = [this] { takeBack(); };
        fields[i]->onTextChange = [this] { resized(); };
        addAndMakeVisible(*fields[i]);
    }
    addAndMakeVisible(save);
    addAndMakeVisible(back);
    save.setTooltip("for this coupler, here and in the library (Return)");
    save.onClick = [this] { take(); };
    back.onClick = [this] { takeBack(); };
}

bool JudgedTermsEditor::isChanged() const
{
    const auto values = valuesOf(shown);
    for (std::size_t i = 0; i < count; ++i)
        if (fields[i]->getText().trim().toStdString() != textOf(values[i]))
            return true;
    return false;
}

void JudgedTermsEditor::show(const JudgedTerms& next, bool allowed)
{
    for (auto& field : fields)
        field->setEnabled(allowed);
    if (!(next == shown)) {
        const bool typing = isChanged();
        shown = next;
        if (!typing)
            takeBack();
    }
    resized();
}

void JudgedTermsEditor::takeBack()
{
    const auto values = valuesOf(shown);
    for (std::size_t i = 0; i < count; ++i)
        fields[i]->setWords(textOf(values[i]));
    refusal.clear();
    resized();
}

void JudgedTermsEditor::take()
{
    std::array<std::optional<double>, count> values;
    refusal.clear();
    for (std::size_t i = 0; i < count; ++i) {
        if (fields[i]->getText().trim().isEmpty())
            continue;
        values[i] = numberOf(fields[i]->getText(), terms[i].unit);
        if (!values[i] && refusal.empty())
            refusal = fmt::format("'{}' must be a size in {} from 0 to {:g}, such as {:g}, or empty.", terms[i].label,
                                  terms[i].unit, largest, terms[i].assumed);
    }
    if (!refusal.empty())
        return resized();
    JudgedTerms next = shown; // what has no field here stays
    next.seating_dB = values[0];
    next.drift_dB = values[1];
    next.linearity_dB = values[2];
    next.barometer.reset();
    if (values[3])
        next.barometer = Kilopascals(*values[3]);
    next.response_dB = values[4];
    next.insertion_dB = values[5];
    shown = next;
    takeBack();
    if (onTerms)
        onTerms(next);
}

float JudgedTermsEditor::heightFor(float width) const
{
    const TextStyle plain{measures.between(11, 12)};
    const int lines = Pen(*fonts).linesFor(advice, width, plain);
    return measures.between(20, 26) + static_cast<float>(lines) * (plain.size + 4.0f) + 6.0f + 2.0f * lineHeight();
}

void JudgedTermsEditor::resized()
{
    canvas.setBounds(getLocalBounds());
    const float width = static_cast<float>(getWidth());
    if (width <= 0.0f)
        return;
    Pen pen(*fonts);
    const TextStyle head{measures.between(12.5f, 15), true}, label{measures.between(11, 12), false, colours::grey};
    float y = measures.between(13, 17);
    const std::string title = "Terms that are judged";
    pen.left(title, 0.0f, y, pen.width(title, head) + 1.0f, head);
    y += measures.between(16, 20);
    const std::string& said = refusal.empty() ? advice : refusal;
    const TextStyle words{label.size, false, refusal.empty() ? colours::grey : colours::ink};
    const int lines = pen.linesFor(advice, width, label);
    if (!refusal.empty())
        pen.mark(Mark::attention, 0.0f, y - 0.36f * words.size, 10.0f, colours::ink);
    const float indent = refusal.empty() ? 0.0f : 15.0f;
    pen.paragraph(said, indent, y, width - indent, words.size + 4.0f, std::max(1, lines), words);
    y += static_cast<float>(lines) * (words.size + 4.0f) - 4.0f;
    const float column = width / perLine, height = measures.between(21, 25);
    for (std::size_t i = 0; i < count; ++i) {
        const float x = column * static_cast<float>(i % perLine);
        const std::size_t line = i / perLine;
        const float top = y + lineHeight() * static_cast<float>(line);
        const float room = 0.5f * column - 8.0f, fieldWidth = 0.5f * column - measures.between(34, 48);
        pen.left(pen.shortened(terms[i].label, room, label), x, top + 0.5f * height + 0.36f * label.size, room, label);
        fields[i]->setBounds(juce::Rectangle<float>(x + 0.5f * column, top, fieldWidth, height).toNearestInt());
        pen.left(terms[i].unit, x + 0.5f * column + fieldWidth + 5.0f, top + 0.5f * height + 0.36f * label.size,
                 measures.between(26, 34), label);
    }
    const bool changed = isChanged();
    save.setEnabled(changed && fields[0]->isEnabled());
    back.setEnabled(changed);
    // Beside the title, for the terms fill their lines.
    const float chipHeight = measures.between(17, 21), middle = 0.5f * chipHeight;
    for (Chip* chip : {&save, &back})
        chip->setSize(measures.between(12, 13));
    save.placeLeft(column * 2.0f, middle, chipHeight);
    back.placeLeft(static_cast<float>(save.getRight()) + 6.0f, middle, chipHeight);
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
