// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/CouplerList.h"

#include "Screens/CouplerWords.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

using What = ListEntry::What;

const ProfileQuestion* questionOf(const LibraryView& view, const std::string& name)
{
    const auto found = std::find_if(view.questions.begin(), view.questions.end(),
                                    [&](const auto& q) { return q.session.name == name; });
    return found == view.questions.end() ? nullptr : &*found;
}

std::string titleOf(const LibraryView& view, const ListEntry& entry)
{
    switch (entry.what) {
    case What::coupler:
        return view.rows[entry.row].profile->name;
    case What::none:
        return "no coupler";
    case What::simulated:
        return "simulated bench";
    case What::unreadable:
        return view.unreadable.size() == 1 ? "1 file cannot be read"
                                           : fmt::format("{} files cannot be read", view.unreadable.size());
    case What::notFound:
        return "nothing found";
    }
    return {};
}

std::string subtitleOf(const LibraryView& view, const ListEntry& entry)
{
    switch (entry.what) {
    case What::coupler: {
        const auto& coupler = *view.rows[entry.row].profile;
        if (const auto* question = questionOf(view, coupler.name))
            return shortQuestionWords(*question);
        return coupler.kind.empty() ? coupler.serial : coupler.kind;
    }
    case What::none:
        return "levels are dBFS";
    case What::simulated:
        return "a bench that does not exist, to try things";
    case What::unreadable:
        return "what is in the way, and how to mend it";
    case What::notFound:
        return "no coupler has all of these words";
    }
    return {};
}

} // namespace

Picture rowPicture(const LibraryView& view, const ListEntry& entry, bool chosen, bool selected, juce::Point<float> size,
                   const Fonts& fonts)
{
    Pen pen(fonts);
    constexpr float textLeft = 40.0f, side = 12.0f;
    const float top = size.y / 2.0f - 4.0f, bottom = top + 17.0f;
    if (selected) {
        juce::Path body, edge;
        body.addRectangle(0.0f, 0.0f, size.x, size.y - 1.0f);
        edge.addRectangle(0.0f, 0.0f, 4.0f, size.y - 1.0f);
        pen.fill(body, colours::edge.withAlpha(0.55f));
        pen.fill(edge, colours::measured);
    }
    pen.line(0.0f, size.y - 0.5f, size.x, size.y - 0.5f, colours::edge, 1.0f);
    const TextStyle name{15.0f, chosen}, grey{12.0f, false, colours::grey}, state{12.0f};
    float right = size.x - side;
    if (chosen) {
        const float width = pen.width("in use", state);
        pen.right("in use", right, top, width + 1.0f, state);
        right -= width + 10.0f;
    }
    float subRight = size.x - side;
    if (entry.what == What::coupler) {
        const auto& row = view.rows[entry.row];
        if (row.slot > 0)
            pen.centre(fmt::format("{}", row.slot), 22.0f, top, 30.0f, {15.0f, false, colours::grey});
        const auto words = referenceWords(row);
        const float width = pen.width(words.words, state);
        pen.right(words.words, subRight, bottom, width + 1.0f, state);
        pen.mark(words.mark, subRight - width - 16.0f, bottom - 4.0f, 10.0f, colours::ink);
        subRight -= width + 28.0f;
    }
    const bool asks = entry.what == What::unreadable ||
                      (entry.what == What::coupler && questionOf(view, view.rows[entry.row].profile->name) != nullptr);
    if (asks)
        pen.mark(Mark::attention, 16.0f, bottom - 4.0f, 11.0f, colours::ink);
    const float room = right - textLeft, subRoom = subRight - textLeft;
    pen.left(pen.shortened(titleOf(view, entry), room, name), textLeft, top, room, name);
    if (subRoom > 24.0f)
        pen.left(pen.shortened(subtitleOf(view, entry), subRoom, grey), textLeft, bottom, subRoom, grey);
    return pen.picture;
}

CouplerList::CouplerList() : juce::ListBox("couplers", nullptr)
{
    setModel(this);
    setRowHeight(leastRowHeight);
    setColour(juce::ListBox::backgroundColourId, colours::card);
    setColour(juce::ListBox::outlineColourId, colours::edge);
    setOutlineThickness(1);
    setTitle("Couplers");
}

CouplerList::~CouplerList()
{
    setModel(nullptr);
}

void CouplerList::show(const LibraryView& next, std::vector<ListEntry> entries, const std::string& chosenCoupler)
{
    view = next;
    shown = std::move(entries);
    chosen = chosenCoupler;
    updateContent();
}

void CouplerList::select(std::size_t index)
{
    if (index < shown.size())
        selectRow(static_cast<int>(index));
    else
        deselectAllRows();
}

juce::Component* CouplerList::refreshComponentForRow(int row, bool selected, juce::Component* before)
{
    auto* canvas = canvasOfRow(before, row >= 0 && row < getNumRows());
    if (canvas == nullptr)
        return nullptr;
    const auto& entry = shown[static_cast<std::size_t>(row)];
    const bool inUse = titleOf(view, entry) == chosen;
    canvas->setTitle(juce::String::fromUTF8(titleOf(view, entry).c_str()));
    const juce::Point<float> size(static_cast<float>(getVisibleRowWidth()), static_cast<float>(getRowHeight()));
    canvas->setPicture(rowPicture(view, entry, inUse, selected, size, *fonts));
    return canvas;
}

void CouplerList::selectedRowsChanged(int)
{
    if (onSelect)
        onSelect();
}

void CouplerList::listBoxItemDoubleClicked(int, const juce::MouseEvent&)
{
    if (onTake)
        onTake();
}

void CouplerList::returnKeyPressed(int)
{
    if (onTake)
        onTake();
}

juce::String CouplerList::getNameForRow(int row)
{
    if (row < 0 || row >= getNumRows())
        return {};
    return juce::String::fromUTF8(titleOf(view, shown[static_cast<std::size_t>(row)]).c_str());
}

} // namespace couplet
