// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ChooserSheet.h"

#include "Screens/CouplerSearch.h"
#include "Screens/CouplerWords.h"
#include "Screens/Lists.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

using What = ListEntry::What;

bool isTable(const std::filesystem::path& path)
{
    return path.extension() != ".json";
}

} // namespace

ChooserSheet::ChooserSheet(Controls& c, LibraryControls& l) : controls(c), library(l), details(l, picker)
{
    setTitle("Couplers");
    setOpaque(true);
    canvas.setTitle("Couplers");
    const std::initializer_list<juce::Component*> children{&canvas, &search, &add,     &import, &exportAll,
                                                           &close,  &list,   &details, &bar};
    for (auto* child : children)
        addAndMakeVisible(child);
    search.setHint("search, or a slot's digit");
    search.addKeyListener(this);
    search.onTextChange = [this] { fill(); };
    list.onSelect = [this] { showSelected(); };
    list.onTake = [this] { take(); };
    details.onChoose = [this] { take(); };
    details.onQuestion = [this](const ProfileQuestion& q) { onQuestion(q); };
    details.onEditingEnds = [this] {
        if (isShowing())
            search.grabKeyboardFocus();
    };
    bar.onHeight = [this] {
        resized();
        if (isShowing() && !bar.asksForPath() && bar.path.hasKeyboardFocus(true))
            search.grabKeyboardFocus();
    };
    bar.onUndo = [this] { library.undo(); };
    bar.onImport = [this](bool goOn) { library.answerImport(goOn); };
    bar.onClose = [this] { library.forgetSaid(); };
    bar.onPath = [this](const std::string& path) { picker.typed(path); };
    picker.onTypedPath = [this](const FilePicker::Request& r) { bar.askForPath(r.title, r.name); };
    add.onClick = [this] { makeNew(); };
    import.onClick = [this] { askImport();
};
exportAll.onClick = [this] { askExport(); };
close.onClick = [this] { onClose(); };
add.setTooltip("a new coupler of a kind (Ctrl+N)");
import.setTooltip("couplers from a file (Ctrl+O); it can be dragged here");
exportAll.setTooltip("the whole library as one file");
} // namespace couplet

ChooserSheet::~ChooserSheet()
{
    search.removeKeyListener(this);
}

void ChooserSheet::open()
{
    search.setWords("");
    seenMade = view.made;
    fill();
    selectName(simulated ? "" : inUse);
    if (isShowing())
        search.grabKeyboardFocus();
}

void ChooserSheet::show(const LiveView& live)
{
    const auto next = couplerWords(live);
    onSimulated = live.onSimulatedCoupler;
    if (next == inUse && simulated == live.simulated)
        return;
    inUse = next;
    simulated = live.simulated;
    if (isVisible())
        fill();
}

void ChooserSheet::showLibrary(const LibraryView& next)
{
    view = next;
    bar.show(view);
    if (!isVisible())
        return;
    fill();
    if (view.made == seenMade)
        return;
    seenMade = view.made;
    search.setWords("");
    fill();
    selectName(view.newest);
}

void ChooserSheet::setMeasures(const Measures& m)
{
    measures = m;
    details.setMeasures(m);
}

void ChooserSheet::searchFor(const std::string& words)
{
    search.setWords(words);
    fill();
}

// What was selected stays so as long as it is there.
void ChooserSheet::fill()
{
    const auto* before = selected();
    const std::string name = before != nullptr && before->what == What::coupler && before->row < view.rows.size()
                                 ? view.rows[before->row].profile->name
                                 : "";
    const auto words = search.getText().trim();
    std::vector<ListEntry> entries;
    for (const auto row : couplersFound(words.toStdString(), view))
        entries.push_back({What::coupler, row});
    found = entries.size();
    const auto offer = [&](What what, const char* title) {
        if (words.equalsIgnoreCase(title)) // what was typed whole is meant
            entries.insert(entries.begin(), {what, 0});
        else if (words.isEmpty() || juce::String(title).containsIgnoreCase(words))
            entries.push_back({what, 0});
    };
    offer(What::none, "no coupler");
    offer(What::simulated, "simulated bench");
    if (!view.unreadable.empty())
        offer(What::unreadable, "files cannot be read");
    if (entries.empty())
        entries.push_back({What::notFound, 0});
    list.show(view, std::move(entries), simulated ? "simulated bench" : inUse);
    if (name.empty() || words.isNotEmpty())
        list.select(0);
    else
        selectName(name);
    showSelected();
    drawTexts();
}

const ListEntry* ChooserSheet::selected() const
{
    const auto& entries = list.entries();
    return list.selected() < entries.size() ? &entries[list.selected()] : nullptr;
}

void ChooserSheet::selectName(const std::string& name)
{
    const auto& entries = list.entries();
    const auto found_ = std::find_if(entries.begin(), entries.end(), [&](const ListEntry& e) {
        return e.what == What::coupler && view.rows[e.row].profile->name == name;
    });
    list.select(found_ == entries.end() ? 0 : static_cast<std::size_t>(found_ - entries.begin()));
    showSelected();
}

void ChooserSheet::showSelected()
{
    const auto* entry = selected();
    details.setVisible(entry != nullptr);
    if (entry != nullptr)
        details.show(view, *entry);
}

void ChooserSheet::move(int by)
{
    const int last = static_cast<int>(list.entries().size()) - 1;
    if (last >= 0)
        list.select(static_cast<std::size_t>(std::clamp(static_cast<int>(list.selected()) + by, 0, last)));
}

void ChooserSheet::take()
{
    const auto* entry = selected();
    if (entry == nullptr || entry->what == What::unreadable || entry->what == What::notFound)
        return;
    if (entry->what == What::simulated)
        controls.simulate(!simulated, onSimulated);
    else if (simulated)
        controls.simulate(false, onSimulated);
    if (entry->what == What::none)
        library.chooseNoCoupler();
    if (entry->what == What::coupler)
        library.chooseCoupler(view.rows[entry->row].profile->name);
    onClose();
}

void ChooserSheet::takeSlot(int slot)
{
    if (simulated)
        controls.simulate(false, onSimulated);
    controls.chooseCouplerSlot(slot);
    onClose();
}

void ChooserSheet::makeNew()
{
    juce::PopupMenu kinds;
    for (std::size_t i = 0; i < view.newKinds.size(); ++i)
        kinds.addItem(1 + static_cast<int>(i), juce::String::fromUTF8(view.newKinds[i].c_str()));
    openList(kinds, add, [this](int id) { library.make(view.newKinds[static_cast<std::size_t>(id - 1)]); });
}

void ChooserSheet::askImport()
{
    picker.ask({"Import couplers from", "*.json", "", false},
               [this](const auto& paths) { library.importFiles(paths); });
}

void ChooserSheet::askExport()
{
    picker.ask({"Export the library to", "*.json", "Couplet library.json", true},
               [this](const auto& paths) { library.exportTo("", paths.front()); });
}

// Items go into the library; a table belongs to the coupler that is selected.
void ChooserSheet::dropped(const std::vector<std::filesystem::path>& paths)
{
    std::vector<std::filesystem::path> items;
    const auto* entry = selected();
    const bool isCoupler = entry != nullptr && entry->what == What::coupler;
    const std::string name = isCoupler ? view.rows[entry->row].profile->name : "";
    for (const auto& path : paths)
        if (isTable(path))
            library.attachResponse(name, path); // without a name it is refused, and that is said
        else
            items.push_back(path);
    if (!items.empty())
        library.importFiles(items);
}

} // namespace couplet
