// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/LibraryActions.h"
#include "Library/ItemJson.h"
#include "Library/Presets.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {

std::string jsonLine(const JsonValue& value)
{
    return printedJson(value, JsonLayout::line) + "\n";
}

// What was done to which items, as text or JSON.
Answer reportOf(bool asJson, const char* what, const std::vector<Item>& items, JsonList notes)
{
    if (asJson) {
        JsonList done;
        for (const auto& item : items)
            done.push_back(JsonObject{{"kind", kindOf(item)}, {"name", nameOf(item)}});
        return {jsonLine(JsonObject{{what, std::move(done)}, {"notes", std::move(notes)}})};
    }
    std::string text;
    for (const auto& item : items)
        text += fmt::format("{} {}\n", what, titleOf(item));
    for (const auto& note : notes)
        text += onOneLine(*note.as<std::string>()) + "\n";
    return {text};
}

Outcome<Answer> addPresets(const Folder& folder, const LibraryCall& call)
{
    const auto listing = folder.list();
    std::vector<Item> missing;
    JsonList notes;
    for (const auto& preset : presets()) {
        if (itemNamed(listing.items, kindOf(preset), nameOf(preset)))
            notes.push_back(titleOf(preset) + " was there already and is left as it is");
        else
            missing.push_back(preset);
    }
    for (const auto& preset : missing)
        if (const auto done = folder.save(preset); !done)
            return Fault{done.fault().sentence + " (the same call takes the rest)"};
    return reportOf(call.asJson, "added", missing, std::move(notes));
}

Outcome<Answer> removeItem(const Folder& folder, const LibraryCall& call)
{
    const auto item = folder.find(call.first);
    if (!item)
        return item.fault();
    if (const auto done = folder.remove(call.first); !done)
        return done.fault();
    return reportOf(call.asJson, "removed", {*item},
                    {"its file stays in the library's folder, with .bak behind its name; 'couplet library putback' "
                     "brings it back"});
}

Outcome<Answer> putItemBack(const Folder& folder, const LibraryCall& call)
{
    if (call.version)
        return putVersionBack(folder, call);
    if (const auto done = folder.putBack(call.first); !done)
        return done.fault();
    const auto item = folder.find(call.first);
    return item ? reportOf(call.asJson, "put back", {*item}, {}) : Outcome<Answer>(item.fault());
}

Outcome<Answer> renameItem(const Folder& folder, const LibraryCall& call)
{
    const auto before = folder.find(call.first);
    if (!before)
        return before.fault();
    if (const auto done = folder.rename(call.first, call.second); !done)
        return done.fault();
    const auto after = folder.find(kindOf(*before) + " " + call.second);
    const auto item = after ? after : folder.find(call.second);
    return item ? reportOf(call.asJson, "renamed to", {*item}, {}) : Outcome<Answer>(item.fault());
}

Outcome<Answer> copyItem(const Folder& folder, const LibraryCall& call)
{
    const auto original = folder.find(call.first);
    if (!original)
        return original.fault();
    const auto name = folder.copy(call.first);
    if (!name)
        return name.fault();
    const auto item = folder.find(*name);
    const auto made = item ? item : folder.find(kindOf(*original) + " " + *name);
    JsonList notes;
    if (std::holds_alternative<Coupler>(*original))
        notes.push_back("it is another coupler: it has no reference yet");
    return made ? reportOf(call.asJson, "made", {*made}, std::move(notes)) : Outcome<Answer>(made.fault());
}

} // namespace couplet
