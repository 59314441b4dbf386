// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/CouplerDetails.h"

#include "Screens/CouplerWords.h"
#include "Screens/Lists.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

using What = ListEntry::What;

constexpr float inset = 16.0f, chipHeight = 26.0f;

std::string fileNameFor(const std::string& name)
{
    return juce::File::createLegalFileName(juce::String::fromUTF8(name.c_str())).toStdString() + ".json";
}

} // namespace

CouplerDetails::CouplerDetails(LibraryControls& l, FilePicker& p) : library(l), picker(p)
{
    canvas.setTitle("The selected coupler");
    addAndMakeVisible(canvas);
    addChildComponent(plot);
    addChildComponent(name);
    addChildComponent(fields);
    addChildComponent(earlier);
    for (Chip* chip : {&choose, &slot, &renameChip, &change, &copyChip, &removeChip, &response, &exportChip, &versions,
                       &earlierChip})
        addChildComponent(chip);
    choose.onClick = [this] { onChoose(); };
    slot.onClick = [this] { chooseSlot(); };
    renameChip.onClick = [this] { startRename(); };
    change.onClick = [this] { startFields(); };
    copyChip.onClick = [this] { copy(); };
    removeChip.onClick = [this] { remove(); };
    response.onClick = [this] { askResponse(); };
    exportChip.onClick = [this] { askExport(); };
    earlierChip.onClick = [this] { startVersions(); };
    versions.onClick = [this] {
        if (const auto* asked = question())
            onQuestion(*asked);
    };
    renameChip.setTooltip("key F2");
    copyChip.setTooltip("under another name, without its references (Ctrl+D)");
    removeChip.setTooltip("out of the library; undo brings it back (Ctrl+Delete)");
    response.setTooltip("from a text file of frequencies and decibels; it can be dragged here");
    earlierChip.setTooltip("what it was before each change, to be put back (Ctrl+E)");
    name.onReturnKey = [this] { rename(); };
    name.onEscapeKey = [this] { leaveEditing(); };
    fields.onClose = [this] { leaveEditing(); };
    earlier.onClose = [this] { leaveEditing(); };
    earlier.onPutBack = [this](int number) { library.putBackVersion(editing, number); };
    fields.onFields = [this](const CouplerFields& next) {
        library.setFields(editing, next);
        leaveEditing();
    };
}

const CouplerRow* CouplerDetails::row() const
{
    return entry.what == What::coupler && entry.row < view.rows.size() ? &view.rows[entry.row] : nullptr;
}

const ProfileQuestion* CouplerDetails::question() const
{
    if (row() == nullptr)
        return nullptr;
    const auto found = std::find_if(view.questions.begin(), view.questions.end(),
                                    [&](const auto& q) { return q.session.name == row()->profile->name; });
    return found == view.questions.end() ? nullptr : &*found;
}

void CouplerDetails::show(const LibraryView& next, const ListEntry& selected)
{
    view = next;
    entry = selected;
    if (edits() && (row() == nullptr || row()->profile->name != editing))
        leaveEditing();
    if (earlier.isVisible())
        earlier.show(view.versions && view.versions->coupler == editing ? view.versions : std::nullopt);
    plot.show(row() != nullptr ? row()->profile : nullptr);
    resized();
}

void CouplerDetails::startRename()
{
    if (!isKept())
        return;
    leaveEditing();
    editing = row()->profile->name;
    name.setWords(editing);
    name.setVisible(true);
    resized();
    if (name.isShowing())
        name.grabKeyboardFocus();
}

void CouplerDetails::startFields()
{
    if (!isKept())
        return;
    leaveEditing();
    editing = row()->profile->name;
    fields.setVisible(true);
    resized();
    fields.edit(fieldsByHand(*row()->profile));
}

void CouplerDetails::startVersions()
{
    if (!isKept())
        return;
    leaveEditing();
    editing = row()->profile->name;
    earlier.show({});
    earlier.setVisible(true);
    resized();
    if (earlier.isShowing())
        earlier.grabKeyboardFocus();
    library.listVersions(editing);
}

void CouplerDetails::leaveEditing()
{
    if (!edits())
        return;
    if (earlier.isVisible())
        library.listVersions({});
    earlier.setVisible(false);
    name.setVisible(false);
    fields.setVisible(false);
    resized();
    if (onEditingEnds)
        onEditingEnds();
}

void CouplerDetails::rename()
{
    const auto typed = name.getText().trim().toStdString();
    if (!typed.empty())
        library.rename(editing, typed);
    leaveEditing();
}

void CouplerDetails::copy()
{
    if (isKept())
        library.copy(row()->profile->name);
}

void CouplerDetails::remove()
{
    if (isKept())
        library.remove(row()->profile->name);
}

void CouplerDetails::put(int number)
{
    if (row() != nullptr)
        library.putInSlot(row()->profile->name, number);
}

void CouplerDetails::chooseSlot()
{
    juce::PopupMenu list;
    for (int number = 1; number <= 16; ++number) {
        const auto holder = std::find_if(view.rows.begin(), view.rows.end(),
                                         [number](const CouplerRow& r) { return r.slot == number; });
        const auto text = holder == view.rows.end() ? fmt::format("{}   free", number)
                                                    : fmt::format("{}   {}", number, holder->profile->name);
        list.addItem(number, juce::String::fromUTF8(text.c_str()), true, row() != nullptr && row()->slot == number);
    }
    openList(list, slot, [this](int number) { put(number); });
}

void CouplerDetails::askResponse()
{
    if (!isKept())
        return;
    picker.ask({"Response table of " + row()->profile->name, "*.txt;*.csv;*.frd;*.cal;*", "", false},
               [this, of = row()->profile->name](const auto& paths) { library.attachResponse(of, paths.front()); });
}

void CouplerDetails::askExport()
{
    if (!isKept())
        return;
    picker.ask({"Export " + row()->profile->name, "*.json", fileNameFor(row()->profile->name), true},
               [this, of = row()->profile->name](const auto& paths) { library.exportTo(of, paths.front()); });
}

} // namespace couplet
