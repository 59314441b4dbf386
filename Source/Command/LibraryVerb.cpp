// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/BenchArguments.h"
#include "Command/ItemText.h"
#include "Command/LibraryActions.h"
#include "Command/Progress.h"
#include "Command/Verb.h"
#include "Library/Bundle.h"
#include "Library/NearNames.h"
#include "Library/SavingMany.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

namespace fs = std::filesystem;

constexpr const char* listNames[] = {"couplers", "calibrators", "earphones", "drive_sources"}; // as Item orders them

JsonList notesOf(const Folder::Listing& listing)
{
    JsonList notes;
    for (const auto& fault : listing.unreadable)
        notes.push_back("not read: " + fault.sentence);
    for (const auto& fault : listing.lookAlikes)
        notes.push_back(fault.sentence);
    return notes;
}

std::string listingJson(const Folder::Listing& listing)
{
    JsonObject object;
    for (std::size_t kind = 0; kind < std::size(listNames); ++kind) {
        JsonList list;
        for (const auto& item : listing.items)
            if (item.index() == kind)
                list.push_back(jsonOf(item));
        object.emplace_back(listNames[kind], std::move(list));
    }
    object.emplace_back("notes", notesOf(listing));
    return jsonLine(object);
}

std::string listingText(const Folder::Listing& listing, const fs::path& root)
{
    auto text = fmt::format("library {}{}\n", inQuotes(root.string()), listing.items.empty() ? ": no items yet" : "");
    std::vector<TextRow> rows;
    for (const auto& item : listing.items)
        rows.push_back({kindOf(item), nameOf(item), summaryOf(item)});
    text += alignedText(rows);
    for (const auto& fault : listing.unreadable)
        text += "not read: " + onOneLine(fault.sentence) + "\n";
    for (const auto& fault : listing.lookAlikes)
        text += fault.sentence + "\n";
    return text;
}

Outcome<Answer> list(const Folder& folder, const LibraryCall& call)
{
    const auto listing = folder.list();
    return Answer{call.asJson ? listingJson(listing) : listingText(listing, folder.path())};
}

Outcome<Answer> show(const Folder& folder, const LibraryCall& call)
{
    const auto item = folder.find(call.first);
    if (!item)
        return item.fault();
    return Answer{call.asJson ? jsonLine(jsonOf(*item)) : detailsOf(*item)};
}

Outcome<Answer> save(const Folder& folder, const std::string& file, const std::vector<Item>& items, const char* what,
                     bool asJson)
{
    const auto plan = planToSave(folder, items, file);
    if (!plan)
        return plan.fault();
    const auto all = plan->toSave.size();
    Progress progress("importing");
    const auto done = saveMany(folder, plan->toSave, TakenSlot::isRefused, [&](std::size_t saved) {
        progress.reached(static_cast<double>(saved) / static_cast<double>(all));
    });
    if (done.fault)
        return Fault{fmt::format("{} ({} of {} were saved before; the same call takes the rest)", done.fault->sentence,
                                 done.saved, all)};
    JsonList notes;
    for (const auto& item : plan->alreadyThere)
        notes.push_back(titleOf(item) + " was there already, the same");
    return reportOf(asJson, what, plan->toSave, std::move(notes));
}

Outcome<Answer> add(const Folder& folder, const LibraryCall& call)
{
    const auto item = Folder::readFile(call.first);
    if (!item)
        return item.fault();
    return save(folder, call.first, {*item}, "added", call.asJson);
}

Outcome<Answer> import(const Folder& folder, const LibraryCall& call)
{
    const auto items = readItems(call.first);
    if (!items)
        return items.fault();
    return save(folder, call.first, *items, "imported", call.asJson);
}

// All of the library, or one item; a coupler with the calibrators that it names.
Outcome<std::vector<Item>> itemsToExport(const Folder& folder, const Folder::Listing& listing, const std::string& only)
{
    if (!only.empty()) {
        const auto item = folder.find(only);
        if (!item)
            return item.fault();
        const auto* coupler = std::get_if<Coupler>(&*item);
        return coupler ? withWhatItNeeds(listing, *coupler) : std::vector<Item>{*item};
    }
    if (listing.items.empty())
        return Fault{fmt::format("the library {} has no items to export; name another with --library",
                                 inQuotes(folder.path().string()))};
    return listing.items;
}

// A name that is taken is never written over: it might be anything.
Outcome<Answer> exportItems(const Folder& folder, const LibraryCall& call)
{
    std::error_code error;
    if (fs::exists(fs::symlink_status(call.first, error)))
        return Fault{
            fmt::format("{}: it is there already and is left as it is; give another name", onOneLine(call.first))};
    const auto listing = folder.list();
    const auto items = itemsToExport(folder, listing, call.only);
    if (!items)
        return items.fault();
    const auto text = bundleTextOf(*items);
    if (!text)
        return text.fault();
    if (const auto done = replaceFile(call.first, *text, false); !done)
        return done.fault();
    return reportOf(call.asJson, "exported", *items, notesOf(listing));
}

struct Action
{
    const char* name;
    std::vector<const char*> words; // what has to follow
    Outcome<Answer> (*run)(const Folder&, const LibraryCall&);
};

const std::vector<Action>& actions()
{
    static const std::vector<Action> all = {{"list", {}, list},
                                            {"show", {"NAME"}, show},
                                            {"add", {"FILE"}, add},
                                            {"remove", {"NAME"}, removeItem},
                                            {"putback", {"NAME"}, putItemBack},
                                            {"versions", {"NAME"}, listVersions},
                                            {"rename", {"NAME", "NEW-NAME"}, renameItem},
                                            {"copy", {"NAME"}, copyItem},
                                            {"presets", {}, addPresets},
                                            {"export", {"FILE"}, exportItems},
                                            {"import", {"FILE"}, import}};
    return all;
}

// What is wrong with the words behind the action, if anything.
std::optional<Fault> faultOfCall(const Action& action, const std::vector<std::string>& words, bool hasOnly,
                                 bool hasVersion)
{
    const auto given = words.size() - 1, wanted = action.words.size();
    if (given > wanted)
        return Fault{fmt::format("library {} takes {} behind it, and {} is there; leave it out{}", action.name,
                                 wanted == 0 ? "nothing" : "no more", inQuotes(words[wanted + 1]),
                                 wanted == 0 ? "" : " or put a name with spaces in quotes")};
    if (given < wanted)
        return Fault{fmt::format("library {} needs {}; write it behind the {}", action.name, action.words[given],
                                 given == 0 ? action.name : action.words[given - 1])};
    if (hasOnly && action.run != exportItems)
        return Fault{fmt::format("--only is for library export; leave it out of library {}", action.name)};
    if (hasVersion && action.run != putItemBack)
        return Fault{fmt::format("--version is for library putback; leave it out of library {}", action.name)};
    return std::nullopt;
}

Fault unknownAction(const std::string& written)
{
    std::vector<std::string> names;
    for (const auto& action : actions())
        names.emplace_back(action.name);
    const auto near = nearNames(written, names);
    std::string choices;
    for (const auto& name : near.empty() ? names : near)
        choices += (choices.empty() ? "" : ", ") + name;
    return {fmt::format("library has no {}; {}: {}", inQuotes(written), near.empty() ? "there are" : "near", choices)};
}

} // namespace

Outcome<Answer> runLibrary(const Arguments& arguments)
{
    const auto& words = arguments.words();
    const auto action =
        std::find_if(actions().begin(), actions().end(), [&](const Action& a) { return a.name == words.front(); });
    if (action == actions().end())
        return unknownAction(words.front());
    if (const auto fault = faultOfCall(*action, words, arguments.has("only"), arguments.has("version")))
        return *fault;
    const auto folder = libraryOf(arguments);
    std::error_code error;
    if (fs::exists(folder.path(), error) && !fs::is_directory(folder.path(), error))
        return Fault{
            fmt::format("{}: it is no folder; name the library's folder with --library", folder.path().string())};
    const auto valueOf = [&](const char* option) {
        const auto* value = arguments.value(option);
        return value ? std::optional(*value) : std::nullopt;
    };
    return action->run(folder, {words.size() > 1 ? words[1] : "", words.size() > 2 ? words[2] : "",
                                valueOf("only").value_or(""), valueOf("version"), arguments.has("json")});
}

} // namespace couplet
