// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/BenchArguments.h"
#include "Command/ItemText.h"
#include "Command/Verb.h"
#include "Library/Bundle.h"
#include "Library/NearNames.h"
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
    return notes;
}

std::string lineOf(const JsonValue& value)
{
    return printedJson(value, JsonLayout::line) + "\n";
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
    return lineOf(object);
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
    return text;
}

// What was done to which items, as text or JSON.
Answer report(bool asJson, const char* what, const std::vector<Item>& items, JsonList notes)
{
    if (asJson) {
        JsonList done;
        for (const auto& item : items)
            done.push_back(JsonObject{{"kind", kindOf(item)}, {"name", nameOf(item)}});
        return {lineOf(JsonObject{{what, std::move(done)}, {"notes", std::move(notes)}})};
    }
    std::string text;
    for (const auto& item : items)
        text += fmt::format("{} {}\n", what, titleOf(item));
    for (const auto& note : notes)
        text += onOneLine(*note.as<std::string>()) + "\n";
    return {text};
}

Outcome<Answer> list(const Folder& folder, const std::string&, bool asJson)
{
    const auto listing = folder.list();
    return Answer{asJson ? listingJson(listing) : listingText(listing, folder.path())};
}

Outcome<Answer> show(const Folder& folder, const std::string& name, bool asJson)
{
    const auto item = folder.find(name);
    if (!item)
        return item.fault();
    return Answer{asJson ? lineOf(jsonOf(*item)) : detailsOf(*item)};
}

Outcome<Answer> save(const Folder& folder, const std::string& file, const std::vector<Item>& items, const char* what,
                     bool asJson)
{
    const auto plan = planToSave(folder, items, file);
    if (!plan)
        return plan.fault();
    std::size_t saved = 0;
    for (const auto& item : plan->toSave) {
        if (const auto done = folder.save(item); !done)
            return Fault{fmt::format("{} ({} of {} were saved before; the same call takes the rest)",
                                     done.fault().sentence, saved, plan->toSave.size())};
        ++saved;
    }
    JsonList notes;
    for (const auto& item : plan->alreadyThere)
        notes.push_back(titleOf(item) + " was there already, the same");
    return report(asJson, what, plan->toSave, std::move(notes));
}

Outcome<Answer> add(const Folder& folder, const std::string& file, bool asJson)
{
    const auto item = Folder::readFile(file);
    if (!item)
        return item.fault();
    return save(folder, file, {*item}, "added", asJson);
}

Outcome<Answer> import(const Folder& folder, const std::string& file, bool asJson)
{
    const auto items = readItems(file);
    if (!items)
        return items.fault();
    return save(folder, file, *items, "imported", asJson);
}

Outcome<Answer> remove(const Folder& folder, const std::string& name, bool asJson)
{
    const auto item = folder.find(name);
    if (!item)
        return item.fault();
    if (const auto done = folder.remove(name); !done)
        return done.fault();
    return report(asJson, "removed", {*item}, {"its file stays in the library's folder, with .bak behind its name"});
}

// A name that is taken is never written over: it might be anything.
Outcome<Answer> exportAll(const Folder& folder, const std::string& file, bool asJson)
{
    std::error_code error;
    if (fs::exists(fs::symlink_status(file, error)))
        return Fault{fmt::format("{}: it is there already and is left as it is; give another name", file)};
    const auto listing = folder.list();
    if (listing.items.empty())
        return Fault{fmt::format("the library {} has no items to export; name another with --library",
                                 inQuotes(folder.path().string()))};
    const auto text = bundleTextOf(listing.items);
    if (!text)
        return text.fault();
    if (const auto done = replaceFile(file, *text, false); !done)
        return done.fault();
    return report(asJson, "exported", listing.items, notesOf(listing));
}

struct Action
{
    const char* name;
    const char* word; // what has to follow; empty: nothing
    Outcome<Answer> (*run)(const Folder&, const std::string& word, bool asJson);
};

constexpr Action actions[] = {{"list", "", list},         {"show", "NAME", show},        {"add", "FILE", add},
                              {"remove", "NAME", remove}, {"export", "FILE", exportAll}, {"import", "FILE", import}};

Fault unknownAction(const std::string& written)
{
    std::vector<std::string> names;
    for (const auto& action : actions)
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
    const auto* action =
        std::find_if(std::begin(actions), std::end(actions), [&](const Action& a) { return a.name == words.front(); });
    if (action == std::end(actions))
        return unknownAction(words.front());
    const std::string_view wanted = action->word;
    if (wanted.empty() && words.size() > 1)
        return Fault{fmt::format("library {} takes nothing behind it, and {} is there; leave it out", action->name,
                                 inQuotes(words[1]))};
    if (!wanted.empty() && words.size() < 2)
        return Fault{fmt::format("library {} needs {}; write it behind the {}", action->name, wanted, action->name)};
    const auto folder = libraryOf(arguments);
    std::error_code error;
    if (fs::exists(folder.path(), error) && !fs::is_directory(folder.path(), error))
        return Fault{
            fmt::format("{}: it is no folder; name the library's folder with --library", folder.path().string())};
    return action->run(folder, words.size() > 1 ? words[1] : std::string(), arguments.has("json"));
}

} // namespace couplet
