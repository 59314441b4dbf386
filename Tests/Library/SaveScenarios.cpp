// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/SaveScenarios.h"

#include "Library/Bundle.h"
#include "Library/FolderVersions.h"
#include "Library/Presets.h"
#include "Library/SaveProblems.h"
#include "Library/SavingMany.h"

#include <stdexcept>

namespace couplet::tests {
namespace scenarios {
namespace {

namespace fs = std::filesystem;

void must(const Outcome<Done>& done)
{
    if (!done)
        throw std::runtime_error(done.fault().sentence);
}

// Saved twice, so that it has a backup.
void start(const Folder& folder)
{
    must(folder.save(older));
    must(folder.save(before));
    must(folder.save(fullCalibrator("k")));
    must(folder.appendReading(firstReading));
}

void startLong(const Folder& folder)
{
    start(folder);
    must(folder.save(beforeRoll));
}

void startNothing(const Folder&) {}

Outcome<Done> saveAll(const Folder& folder, const std::vector<Item>& items)
{
    const auto plan = planToSave(folder, items, "import.json");
    if (!plan)
        return plan.fault();
    const auto saved = saveMany(folder, plan->toSave, TakenSlot::isRefused);
    return saved.fault ? Outcome<Done>(*saved.fault) : Outcome<Done>(Done{});
}

Outcome<Done> putBackOlder(const Folder& folder)
{
    const auto back = putBackVersion(folder, "c", 1);
    return back ? Outcome<Done>(Done{}) : Outcome<Done>(back.fault());
}

Outcome<Done> copy(const Folder& folder)
{
    const auto name = folder.copy("c");
    return name ? Outcome<Done>(Done{}) : Outcome<Done>(name.fault());
}

Outcome<Done> exportAll(const Folder& folder)
{
    const auto text = bundleTextOf(folder.list().items);
    return text ? replaceFile(folder.path().parent_path() / "all.json", *text, false) : Outcome<Done>(text.fault());
}

// An item by hand under the file name that the earphone is to get.
void startInItsPlace(const Folder& folder)
{
    start(folder);
    writeContent(folder.path() / fileNameOf(fullEarphone("e")), textOf(another("x")));
}

void startRemoved(const Folder& folder)
{
    start(folder);
    must(folder.remove("c"));
}

// Of a folder that nobody knows yet, its last sync holds for all that is in it, and so does that of its final name.
std::vector<SaveScenario::Redundant> atStart()
{
    std::vector<SaveScenario::Redundant> redundant;
    for (const int sync : {2, 3, 4})
        redundant.push_back({sync,
                             "a folder's name lasts with the one after it: of the three, each is synced again when the "
                             "next is made or the last gets its name"});
    for (std::size_t item = 0; item + 1 < presets().size(); ++item)
        redundant.push_back({static_cast<int>(6 + 2 * item), "the last sync of the new folder holds for all in it"});
    return redundant;
}

} // namespace
} // namespace scenarios

const std::vector<SaveScenario>& saveScenarios()
{
    using namespace scenarios;
    static const std::vector<SaveScenario> all = {
        {"a save", "library", start, [](const Folder& f) { return f.save(after); }, saved, {}},
        {"a save that moves older references on",
         "library",
         startLong,
         [](const Folder& f) { return f.save(afterRoll); },
         rolledOver,
         {{2, "the name of the backup is synced after it and holds for this one too; where there is none it matters"}},
         true},
        {"a first save with a long history",
         "of/its/own",
         startNothing,
         [](const Folder& f) { return f.save(afterRoll); },
         rolledOverFirst,
         {},
         true},
        {"a first save", "library", start, [](const Folder& f) { return f.save(another("new")); }, savedFirst, {}},
        {"a save into folders that are not there",
         "of/its/own",
         startNothing,
         [](const Folder& f) { return f.save(before); },
         savedIntoNothing,
         {}},
        {"a save where another item has its file",
         "library",
         startInItsPlace,
         [](const Folder& f) { return f.save(fullEarphone("e")); },
         madeWay,
         {}},
        {"a removal", "library", start, [](const Folder& f) { return f.remove("c"); }, removed, {}},
        {"a version is put back", "library", start, putBackOlder, versionPutBack, {}},
        {"what was removed is put back",
         "library",
         startRemoved,
         [](const Folder& f) { return f.putBack("c"); },
         putBack,
         {}},
        {"a reading",
         "library",
         start,
         [](const Folder& f) { return f.appendReading(nextReading); },
         read,
         {{2, "the file has its name already; it matters where the program that made it was stopped"}}},
        {"a first reading",
         "of/its/own",
         startNothing,
         [](const Folder& f) { return f.appendReading(nextReading); },
         readFirst,
         {}},
        {"a rename",
         "library",
         start,
         [](const Folder& f) { return f.rename("c", "d"); },
         renamed,
         {{4, "its new name in the file and that of the file last together, and each alone is whole"},
          {5, "versions that lie under its old name are found by what they hold"}}},
        {"a copy", "library", start, copy, copied, {}},
        {"an import",
         "library",
         start,
         [](const Folder& f) {
             return saveAll(f, {another("new"), fullEarphone("e")});
         },
         imported,
         {}},
        {"an export", "library", start, exportAll, exported, {}},
        {"a library's start", "of/its/own", startNothing, [](const Folder& f) { return startLibrary(f); }, started,
         atStart()},
    };
    return all;
}

std::string unsoundness(const Folder& folder)
{
    using namespace scenarios;
    const auto listing = folder.list();
    if (!listing.unreadable.empty())
        return listing.unreadable.front().sentence;
    auto next = coupler("the next", "1");
    next.slot = 0;
    for (const auto& item : listing.items)
        if (const auto* there = std::get_if<Coupler>(&item))
            next = *there;
    next.serial = "the next";
    for (const Item& item : {Item(next), Item(fullEarphone("the next"))})
        if (const auto done = folder.save(item); !done)
            return done.fault().sentence;
    if (itemIn<Coupler>(folder, next.name) != next || !itemIn<Earphone>(folder, "the next"))
        return "the next save is not there";
    if (const auto done = folder.appendReading(nextReading); !done)
        return done.fault().sentence;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path()))
        if (entry.path().extension() == ".tmp")
            return "a save's leavings stay";
    return "";
}

} // namespace couplet::tests
