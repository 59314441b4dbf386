// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/HistoryFiles.h"

#include "Library/Descriptor.h"
#include "Library/FileName.h"
#include "Library/FolderEdit.h"
#include "Library/ItemJson.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>

namespace couplet {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view historyKind = "coupler history";
constexpr int historyVersion = 1;
// Method of this product: a reference with its budget is some 1 kB.
constexpr std::size_t rollsOverAbove_bytes = 1u << 19, staysInOwn_bytes = 1u << 17, historyFile_bytes = 1u << 20;

// FNV-1a, 64 bits (public domain, Fowler, Noll and Vo); constants from memory.
std::uint64_t hashOf64(std::string_view text)
{
    std::uint64_t hash = 14695981039346656037u;
    for (const char c : text)
        hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211u;
    return hash;
}

std::string historyTextOf(const std::string& name, const std::vector<Reference>& references)
{
    return printedJson(JsonObject{{"kind", std::string(historyKind)},
                                  {"version", historyVersion},
                                  {"name", name},
                                  {"references", listOf(references)}},
                       JsonLayout::file);
}

Outcome<std::vector<Reference>> readOlder(const OlderReferences& named, const std::string& coupler,
                                          const fs::path& file)
{
    const auto where = onOneLine(file.string());
    const auto text = contentOf(file, largestJson_bytes);
    if (!text)
        return Fault{
            fmt::format("{}: the references of coupler {} from {} to {} could not be read ({}); put the file back "
                        "from a copy of the folder",
                        where, inQuotes(coupler), named.from, named.to, text.fault().sentence)};
    auto references = historyFrom(*text, where);
    if (!references)
        return Fault{references.fault().sentence +
                     fmt::format("; until then coupler {} lacks its references from {} to {}", inQuotes(coupler),
                                 named.from, named.to)};
    if (references->size() != named.count || references->front().takenAt != named.from ||
        references->back().takenAt != named.to)
        return Fault{
            fmt::format("{}: it holds {} references from {} to {}, but coupler {} names {} from {} to {} there: "
                        "it is another's or was changed; put the right file in its place",
                        where, references->size(), references->front().takenAt, references->back().takenAt,
                        inQuotes(coupler), named.count, named.from, named.to)};
    return references;
}

// What is not in history files just as it is.
std::vector<Reference> ownOf(const Coupler& coupler, const Older& onDisk)
{
    if (onDisk.references.empty())
        return coupler.references;
    const ReferenceIndex older(onDisk.references);
    std::vector<Reference> own;
    for (const auto& reference : coupler.references)
        if (const auto* same = older.find(reference); same == nullptr || same->setAside != reference.setAside)
            own.push_back(reference);
    return own;
}

std::size_t sizeOf(const Reference& reference)
{
    return printedJson(JsonObject{{"references", listOf(std::vector<Reference>{reference})}}, JsonLayout::file).size();
}

Outcome<OlderReferences> writeHistory(const Coupler& coupler, const std::vector<Reference>& references,
                                      const fs::path& folder)
{
    const auto text = historyTextOf(coupler.name, references);
    const auto stem = fs::path(fileNameOf(coupler)).stem().string();
    const auto name = fmt::format("{}-{:016x}.history", stem, hashOf64(text));
    const auto same = historyFrom(text, name); // the very text, before it is there
    if (!same)
        return same.fault();
    if (*same != references)
        return Fault{"a reference would not be read again just as it is; correct its figures"};
    // The name says what is in it: what may stand there from a program that was stopped is the same.
    if (const auto written = replaceFile(folder / name, text, false); !written)
        return written.fault();
    return OlderReferences{name, references.size(), references.front().takenAt, references.back().takenAt};
}

// Moves the oldest references of the coupler into history files until those that stay have at most so many bytes.
Outcome<Done> rollOver(Coupler& own, const std::vector<std::size_t>& sizes, std::size_t stays_bytes,
                       const fs::path& folder)
{
    std::size_t stay = sizes.size(), staying_bytes = 0;
    while (stay > 0 && staying_bytes + sizes[stay - 1] <= stays_bytes)
        staying_bytes += sizes[--stay];
    const auto at = [&](std::size_t i) { return own.references.begin() + static_cast<std::ptrdiff_t>(i); };
    for (std::size_t begin = 0, end = 0; begin < stay; begin = end) {
        std::size_t bytes = 0;
        do
            bytes += sizes[end++];
        while (end < stay && bytes + sizes[end] <= historyFile_bytes);
        auto written = writeHistory(own, {at(begin), at(end)}, folder);
        if (!written)
            return written.fault();
        own.older.push_back(*std::move(written));
    }
    own.references.erase(own.references.begin(), at(stay));
    return Done{};
}

Outcome<Done> rollOverIfLong(Coupler& own, std::size_t text_bytes, const fs::path& folder)
{
    std::vector<std::size_t> sizes;
    std::size_t references_bytes = 0;
    for (const auto& reference : own.references) {
        sizes.push_back(sizeOf(reference));
        references_bytes += sizes.back();
    }
    if (text_bytes <= largestJson_bytes && references_bytes <= rollsOverAbove_bytes / 2)
        return Done{}; // it is long by other things
    const auto others_bytes = text_bytes - std::min(text_bytes, references_bytes);
    const auto room_bytes = largestJson_bytes - std::min(largestJson_bytes, others_bytes + (1u << 16));
    return rollOver(own, sizes, std::min(staysInOwn_bytes, room_bytes), folder);
}

} // namespace

Outcome<std::vector<Reference>> historyFrom(std::string_view text, const std::string& where)
{
    const auto root = parsedJson(text, where);
    if (!root)
        return root.fault();
    FirstFault faults(where);
    Fields fields(*root->as<JsonObject>(), "", faults); // parsedJson lets only an object pass
    if (const double version = fields.number("version"); version != historyVersion)
        fields.refuse("version",
                      fmt::format("is {}, but this Couplet reads version {}; read the file with a newer Couplet",
                                  printedNumber(version), historyVersion));
    fields.oneOf("kind", {historyKind});
    fields.text("name");
    auto references = referencesFrom(fields);
    if (references.empty())
        fields.refuse("references", "holds none; put the right file in its place");
    fields.refuseUnknown();
    if (faults.fault())
        return *faults.fault();
    return references;
}

Older joinOlder(Coupler& coupler, const fs::path& folder, std::vector<HistoryFault>& faults)
{
    Older older{std::exchange(coupler.older, {}), {}};
    for (const auto& named : older.files) {
        const auto file = folder / named.file;
        auto references = readOlder(named, coupler.name, file);
        if (!references) {
            faults.push_back({file, references.fault()});
            continue;
        }
        // Of one that an older file has as well, this copy counts, in the place of that one.
        const auto known = older.references.size();
        const ReferenceIndex before(older.references);
        std::vector<Reference> fresh;
        for (auto& reference : *references)
            if (const auto* same = known > 0 ? before.find(reference) : nullptr)
                older.references[static_cast<std::size_t>(same - older.references.data())].setAside =
                    reference.setAside;
            else
                fresh.push_back(std::move(reference));
        std::move(fresh.begin(), fresh.end(), std::back_inserter(older.references));
    }
    if (older.references.empty())
        return older;
    auto all = older.references;
    const ReferenceIndex before(older.references);
    for (auto& own : coupler.references)
        if (const auto* same = before.find(own))
            all[static_cast<std::size_t>(same - older.references.data())].setAside = own.setAside;
        else
            all.push_back(std::move(own));
    coupler.references = std::move(all);
    return older;
}

Item withoutReferences(Item item)
{
    if (auto* coupler = std::get_if<Coupler>(&item)) {
        coupler->older.clear();
        coupler->references.clear();
    }
    return item;
}

Outcome<std::string> textForFolder(const Item& item, const Older& onDisk, const fs::path& folder)
{
    auto own = item;
    auto* coupler = std::get_if<Coupler>(&own);
    if (coupler != nullptr) {
        coupler->references = ownOf(*coupler, onDisk);
        coupler->older = onDisk.files;
    }
    auto text = textOf(own);
    if (coupler != nullptr && text.size() > rollsOverAbove_bytes) {
        if (const auto rolled = rollOverIfLong(*coupler, text.size(), folder); !rolled)
            return rolled.fault();
        text = textOf(own);
    }
    if (const auto good = canBeKept(own); !good)
        return good.fault();
    return text;
}

} // namespace couplet
