// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Bundle.h"

#include "Library/Descriptor.h"
#include "Library/Fields.h"
#include "Library/FileName.h"
#include "Library/FolderScan.h"
#include "Library/ItemJson.h"
#include "Library/Names.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

namespace couplet {
namespace {

constexpr const char* bundleKind = "couplet library";
constexpr int bundleVersion = 1;

const JsonValue* fieldOf(const JsonObject& object, std::string_view name)
{
    const auto found = std::find_if(object.begin(), object.end(), [&](const auto& f) { return f.first == name; });
    return found == object.end() ? nullptr : &found->second;
}

bool isBundle(const JsonObject& root)
{
    const auto* kind = fieldOf(root, "kind");
    const auto* text = kind ? kind->as<std::string>() : nullptr;
    return text && *text == bundleKind;
}

// Only what says that it is a library may be as large as one.
std::size_t mostBytesOf(std::string_view text)
{
    return text.find(fmt::format("\"{}\"", bundleKind)) == std::string_view::npos ? largestJson_bytes
                                                                                  : largestBundle_bytes;
}

// One file has none beside it.
std::optional<Fault> namesFiles(const Item& item, const std::string& where)
{
    const auto* coupler = std::get_if<Coupler>(&item);
    if (coupler == nullptr || coupler->older.empty())
        return std::nullopt;
    return Fault{
        fmt::format("{}: {} has older references in the file {}, which is not in it; export it from its library", where,
                    titleOf(item), inQuotes(coupler->older.front().file))};
}

std::optional<Fault> faultOfFrame(const JsonObject& root, const std::string& where)
{
    FirstFault faults(where);
    Fields fields(root, "", faults);
    fields.text("kind");
    const double version = fields.number("version");
    if (version != bundleVersion)
        fields.refuse("version", fmt::format("is {}, but this Couplet reads version {}; read the file with a newer "
                                             "Couplet",
                                             printedNumber(version), bundleVersion));
    if (!fields.has("items"))
        fields.refuse("items", "is missing; add it as a list");
    fields.objectsIfAny("items");
    fields.refuseUnknown();
    return faults.fault();
}

// Why this item cannot join those in the library, if so.
std::optional<std::string> obstacleTo(const Item& item, bool isThere, const std::set<std::string>& unreadable,
                                      const Folder& folder)
{
    if (isThere)
        return fmt::format("the library holds a {} that differs; remove one or rename one", titleOf(item));
    const auto file = (folder.path() / fileNameOf(item)).string();
    if (unreadable.count(file) > 0)
        return fmt::format("the library's file of {} cannot be read and is left as it is; mend {} first", titleOf(item),
                           inQuotes(file));
    return std::nullopt;
}

// From elsewhere.
Outcome<Item> arrived(Outcome<Item> item, const std::string& where)
{
    return item ? withKeptName(*std::move(item), where) : item;
}

using Slots = std::map<int, std::string>; // the coupler in each

Slots slotsIn(const FolderContent& content)
{
    Slots slots;
    for (const auto& entry : content.entries)
        if (const auto* coupler = std::get_if<Coupler>(&entry.item); coupler && coupler->slot != 0)
            slots.emplace(coupler->slot, coupler->name);
    return slots;
}

std::optional<std::string> slotObstacle(const Item& item, Slots& slots)
{
    const auto* coupler = std::get_if<Coupler>(&item);
    if (!coupler || coupler->slot == 0)
        return std::nullopt;
    const auto [holder, isFree] = slots.emplace(coupler->slot, coupler->name);
    if (isFree)
        return std::nullopt;
    return fmt::format("{} wants slot {}, which is taken by coupler {}; choose another slot", titleOf(item),
                       coupler->slot, inQuotes(holder->second));
}

} // namespace

Outcome<std::string> bundleTextOf(const std::vector<Item>& items)
{
    JsonList list;
    for (const auto& item : items)
        if (const auto fault = namesFiles(item, "the library as one file"))
            return *fault;
    for (const auto& item : items)
        // What the library prints it can read, but for figures that are not finite; those no file holds.
        if (auto value = parsedJson(textOf(item), nameOf(item), largestBundle_bytes))
            list.push_back(*std::move(value));
    auto text = printedJson(JsonObject{{"kind", bundleKind}, {"version", bundleVersion}, {"items", std::move(list)}},
                            JsonLayout::file);
    if (text.size() > largestBundle_bytes)
        return Fault{fmt::format("the library as one file is larger than {} MB, which no import would read; copy its "
                                 "folder instead",
                                 largestBundle_bytes >> 20)};
    return text;
}

Outcome<std::vector<Item>> itemsFrom(std::string_view text, const std::string& where)
{
    const auto root = parsedJson(text, where, mostBytesOf(text));
    if (!root)
        return root.fault();
    const auto& object = *root->as<JsonObject>(); // parsedJson lets only an object pass
    if (!isBundle(object)) {
        auto item = arrived(itemFrom(text, where), where);
        if (!item)
            return item.fault();
        return std::vector<Item>{*std::move(item)};
    }
    if (const auto fault = faultOfFrame(object, where))
        return *fault;
    std::vector<Item> items;
    for (const auto& value : *fieldOf(object, "items")->as<JsonList>()) {
        const auto place = fmt::format("{}: items[{}]", where, items.size());
        auto item = arrived(itemFrom(printedJson(value, JsonLayout::line), place, largestBundle_bytes), place);
        if (!item)
            return item.fault();
        if (const auto fault = namesFiles(*item, where))
            return *fault;
        items.push_back(*std::move(item));
    }
    return items;
}

Outcome<std::vector<Item>> readItems(const std::filesystem::path& path)
{
    auto text = contentOf(path, largestBundle_bytes);
    if (text && text->size() > mostBytesOf(*text))
        text = Fault{fmt::format("it is larger than {} MB", mostBytesOf(*text) >> 20)};
    if (!text)
        return Fault{
            fmt::format("{}: it could not be read ({}); check its name", path.string(), text.fault().sentence)};
    auto items = itemsFrom(*text, path.string());
    // The file of a coupler, taken out of its folder together with those of its history.
    std::vector<HistoryFault> faults;
    if (items)
        for (auto& item : *items)
            if (auto* coupler = std::get_if<Coupler>(&item))
                joinOlder(*coupler, path.parent_path(), faults);
    return faults.empty() ? items : Outcome<std::vector<Item>>(faults.front().fault);
}

std::vector<Item> withWhatItNeeds(const Folder::Listing& library, const Coupler& coupler)
{
    const auto isNamed = [&](const std::string& calibrator) {
        return (coupler.correction && lookTheSame(coupler.correction->calibrator, calibrator)) ||
               std::any_of(coupler.references.begin(), coupler.references.end(),
                           [&](const Reference& reference) { return lookTheSame(reference.calibrator, calibrator); });
    };
    std::vector<Item> items = {coupler};
    for (const auto& item : library.items)
        if (std::holds_alternative<Calibrator>(item) && isNamed(nameOf(item)))
            items.push_back(item);
    return items;
}

Outcome<Plan> planToSave(const Folder& folder, const std::vector<Item>& items, const std::string& where)
{
    const auto content = scanFolder(folder.path());
    auto slots = slotsIn(content);
    std::set<std::string> unreadable;
    for (const auto& each : content.unreadable)
        unreadable.insert(each.file.string());
    std::set<std::pair<std::size_t, std::string>> names; // looks of what is to be saved
    Plan plan;
    for (const auto& item : items) {
        const auto refused = [&](const std::string& why) {
            return Fault{fmt::format("{}: nothing was saved, for {}", where, why)};
        };
        if (names.count({item.index(), lookOf(nameOf(item))}) > 0)
            return refused(fmt::format("it holds {} twice; take one out", titleOf(item)));
        const auto* entry = content.find(kindOf(item), nameOf(item));
        if (entry && entry->item == item) {
            plan.alreadyThere.push_back(item);
            continue;
        }
        auto obstacle = obstacleTo(item, !content.alike(kindOf(item), nameOf(item)).empty(), unreadable, folder);
        if (!obstacle)
            obstacle = slotObstacle(item, slots);
        if (obstacle)
            return refused(*obstacle);
        names.emplace(item.index(), lookOf(nameOf(item)));
        plan.toSave.push_back(item);
    }
    // Whoever wrote what is there already may have been stopped before it lasted.
    if (!plan.alreadyThere.empty())
        if (const auto synced = syncFolder(folder.path()); !synced)
            return Fault{fmt::format("{}: what is there already may not last through a power cut ({}); check the disk",
                                     where, synced.fault().sentence)};
    return plan;
}

} // namespace couplet
