// SPDX-License-Identifier: GPL-3.0-or-later
//
// What was overwritten: listed, and put back.
#include "Command/ItemText.h"
#include "Command/LibraryActions.h"
#include "Library/FolderVersions.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <charconv>

namespace couplet {
namespace {

Outcome<int> versionFrom(const std::string& text)
{
    int number = 0;
    const auto* end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, number);
    if (error != std::errc() || rest != end || number < 1)
        return Fault{fmt::format("--version: {} is no version; write its number from 'couplet library versions NAME'",
                                 inQuotes(text))};
    return number;
}

Answer versionsJson(const Versions& versions)
{
    JsonList list, notes;
    for (const auto& version : versions.list)
        list.push_back(JsonObject{{"number", version.number}, {"until", version.until}, {"change", version.change}});
    for (const auto& fault : versions.unreadable)
        notes.emplace_back("not read: " + fault.sentence);
    return {jsonLine(JsonObject{{"kind", versions.kind},
                                {"name", versions.name},
                                {"removed", versions.isRemoved},
                                {"versions", std::move(list)},
                                {"notes", std::move(notes)}})};
}

Answer versionsText(const Versions& versions)
{
    const auto title = versions.kind + " " + inQuotes(versions.name);
    auto text =
        versions.list.empty()
            ? fmt::format("{} has no version before: nothing of it was overwritten yet\n", title)
            : fmt::format("versions of {}{}, newest first\n", title, versions.isRemoved ? ", which was removed" : "");
    std::vector<TextRow> rows;
    for (const auto& version : versions.list)
        rows.push_back({std::to_string(version.number), "until " + version.until, onOneLine(version.change)});
    text += alignedText(rows);
    for (const auto& fault : versions.unreadable)
        text += "not read: " + onOneLine(fault.sentence) + "\n";
    return {text};
}

JsonList notesOf(const VersionPutBack& back)
{
    JsonList notes;
    if (back.stayed > 0)
        notes.emplace_back(fmt::format("{} taken since {}", back.stayed == 1 ? "the reference" : "the references",
                                       back.stayed == 1 ? "stays" : "stay"));
    if (!back.isChanged)
        notes.emplace_back("it stood so already: its name and its references are never taken back");
    else if (!back.wasRemoved)
        notes.emplace_back("what stood before is a version too: 'couplet library versions' lists it");
    return notes;
}

} // namespace

Outcome<Answer> listVersions(const Folder& folder, const LibraryCall& call)
{
    const auto versions = versionsOf(folder, call.first);
    if (!versions)
        return versions.fault();
    return call.asJson ? versionsJson(*versions) : versionsText(*versions);
}

Outcome<Answer> putVersionBack(const Folder& folder, const LibraryCall& call)
{
    const auto number = versionFrom(*call.version);
    if (!number)
        return number.fault();
    const auto back = putBackVersion(folder, call.first, *number);
    if (!back)
        return back.fault();
    return reportOf(call.asJson, "put back", {back->now}, notesOf(*back));
}

} // namespace couplet
