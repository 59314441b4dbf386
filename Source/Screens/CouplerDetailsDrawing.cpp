// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where the parts of CouplerDetails stand.
#include "Screens/CouplerDetails.h"

#include "Screens/CouplerWords.h"

#include <fmt/format.h>

namespace couplet {
namespace {

using What = ListEntry::What;

constexpr float inset = 16.0f, chipHeight = 26.0f, labelWidth = 104.0f;

// As much of it as there is room for: the age always, then the slot, then the moment.
std::string stateText(const Pen& pen, const CouplerRow& row, float room, const TextStyle& style)
{
    const auto age = referenceWords(row).words;
    const std::string slot = row.slot > 0 ? fmt::format("; slot {}", row.slot) : "";
    const Reference* reference = row.profile->current();
    if (reference == nullptr)
        return age + slot;
    const auto moment = momentText(reference->takenAt);
    for (const auto& part : {moment, moment.substr(0, 10)})
        if (const auto whole = fmt::format("{}, {}{}", age, part, slot); pen.width(whole, style) <= room)
            return whole;
    return age + slot;
}

} // namespace

// From the bottom up; says where the chips begin.
float CouplerDetails::placeChips(float bottom)
{
    const bool isCoupler = row() != nullptr, kept = isKept();
    const bool canChoose = entry.what != What::unreadable && entry.what != What::notFound && !(isCoupler && edits());
    const bool actions = isCoupler && !edits();
    choose.setVisible(canChoose);
    slot.setVisible(actions);
    versions.setVisible(actions && question() != nullptr);
    for (Chip* chip : {&renameChip, &change, &copyChip, &removeChip, &response, &exportChip, &earlierChip})
        chip->setVisible(actions && kept);
    if (!canChoose)
        return bottom;
    const float right = static_cast<float>(getWidth()) - inset;
    std::vector<std::vector<Chip*>> lines{{}};
    float x = inset;
    for (Chip* chip : {&choose, &slot, &versions, &renameChip, &change, &copyChip, &removeChip, &earlierChip, &response,
                       &exportChip}) {
        if (!chip->isVisible())
            continue;
        if (x + chip->wantedWidth() > right && !lines.back().empty()) {
            lines.emplace_back();
            x = inset;
        }
        lines.back().push_back(chip);
        x += chip->wantedWidth() + 4.0f;
    }
    const float top = bottom - (chipHeight + 2.0f) * static_cast<float>(lines.size());
    float middle = top + chipHeight / 2.0f;
    for (const auto& line : lines) {
        x = inset;
        for (Chip* chip : line) {
            chip->placeLeft(x, middle, chipHeight);
            x += static_cast<float>(chip->getWidth()) + 4.0f;
        }
        middle += chipHeight + 2.0f;
    }
    return top;
}

void CouplerDetails::drawCoupler(Pen& pen, float& y)
{
    const auto& coupler = *row()->profile;
    const float width = static_cast<float>(getWidth()) - 2.0f * inset;
    const TextStyle head{measures.between(18, 22), true}, state{measures.between(13, 15)};
    y += head.size + 2.0f;
    if (name.isVisible())
        name.setBounds(
            juce::Rectangle<float>(inset - 8.0f, y - head.size - 4.0f, width + 8.0f, head.size + 12.0f).toNearestInt());
    else
        pen.left(pen.shortened(coupler.name, width, head), inset, y, width, head);
    y += state.size + measures.between(7, 10);
    const auto words = referenceWords(*row());
    pen.mark(words.mark, inset, y - 0.35f * state.size, 11.0f, colours::ink);
    const auto text = stateText(pen, *row(), width - 18.0f, state);
    pen.left(pen.shortened(text, width - 18.0f, state), inset + 18.0f, y, width - 18.0f, state);
    y += measures.between(8, 12);
    if (fields.isVisible() || earlier.isVisible())
        return;
    const TextStyle label{12.0f, false, colours::grey}, value{13.0f};
    const float pitch = measures.between(17, 21), room = width - labelWidth;
    for (const auto& line : detailLines(coupler)) {
        y += pitch;
        pen.left(line.label, inset, y, labelWidth, label);
        if (measures.ease > 0.6f && pen.linesFor(line.value, room, value) == 2) {
            pen.paragraph(line.value, inset + labelWidth, y, room, value.size + 4.0f, 2, value);
            y += value.size + 4.0f;
            continue;
        }
        pen.left(pen.shortened(line.value, room, value), inset + labelWidth, y, room, value);
    }
    const auto* asked = question();
    if (asked == nullptr)
        return;
    y += pitch;
    pen.mark(Mark::attention, inset, y - 4.0f, 11.0f, colours::ink);
    pen.left(shortQuestionWords(*asked), inset + 18.0f, y, width - 18.0f, value);
}

void CouplerDetails::drawOther(Pen& pen, float& y) const
{
    const float width = static_cast<float>(getWidth()) - 2.0f * inset;
    const float bottom = static_cast<float>(getHeight()) - inset;
    const TextStyle head{measures.between(18, 22), true}, body{13.0f};
    const auto say = [&](const std::string& title, const std::vector<std::string>& sentences) {
        y += head.size + 2.0f;
        pen.left(pen.shortened(title, width, head), inset, y, width, head);
        y += measures.between(10, 14);
        std::size_t said = 0;
        for (const auto& sentence : sentences) {
            const int lines = pen.linesFor(sentence, width, body);
            const bool isLast = said + 1 == sentences.size();
            if (y + 18.0f * static_cast<float>(lines) + (isLast ? 0.0f : 24.0f) > bottom)
                break;
            y +=
                18.0f * static_cast<float>(pen.paragraph(sentence, inset, y + 18.0f, width, 18.0f, lines, body)) + 6.0f;
            ++said;
        }
        if (said < sentences.size())
            pen.left(fmt::format("and {} more", sentences.size() - said), inset, y + 18.0f, width, body);
    };
    switch (entry.what) {
    case What::none:
        if (view.rows.empty())
            return say("There is no coupler yet",
                       {"'new' makes one from its kind, 'import' reads a file, and so does dragging it here.",
                        "A coupler keeps what it is, what it takes away, and every reference ever taken with it."});
        return say("No coupler", {"Levels are dBFS then, for nothing says what full scale stands for."});
    case What::simulated:
        return say("The simulated bench",
                   {"A bench that does not exist and whose truth is known, to try things. What it "
                    "shows is marked wherever a number stands."});
    case What::unreadable:
        return say("Cannot be read", view.unreadable);
    case What::notFound:
        return say("Nothing found",
                   {"The search looks into name, kind, serial, microphone and input. Take a word away, "
                    "or write only how it begins."});
    case What::coupler:
        return;
    }
}

void CouplerDetails::resized()
{
    canvas.setBounds(getLocalBounds());
    Pen pen(*fonts);
    const auto area = getLocalBounds().toFloat();
    if (area.isEmpty())
        return;
    pen.box(area.reduced(0.5f), 6.0f, colours::card, colours::edge);
    const float chipsTop = placeChips(area.getBottom() - 10.0f);
    float y = measures.between(8, 14);
    if (row() == nullptr)
        drawOther(pen, y);
    else
        drawCoupler(pen, y);
    const bool hasForm = fields.isVisible() || earlier.isVisible();
    const auto form =
        juce::Rectangle<float>(inset, y + 8.0f, area.getWidth() - 2.0f * inset, area.getBottom() - y - 16.0f)
            .toNearestInt();
    fields.setBounds(form);
    earlier.setBounds(form);
    const bool hasTable = row() != nullptr && !row()->profile->response.empty();
    const float plotTop = y + measures.between(8, 14), plotBottom = chipsTop - 8.0f;
    plot.setVisible(hasTable && !hasForm && plotBottom - plotTop > 76.0f);
    plot.setBounds(
        juce::Rectangle<float>(inset - 2.0f, plotTop, area.getWidth() - 2.0f * inset + 2.0f, plotBottom - plotTop)
            .toNearestInt());
    if (row() != nullptr && !hasTable && !hasForm && plotBottom - plotTop > 20.0f)
        pen.left("no response table", inset, plotTop + 12.0f, area.getWidth() - 2.0f * inset,
                 {12.0f, false, colours::grey});
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
