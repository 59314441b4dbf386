// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/ItemJson.h"

#include "Library/Names.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

namespace couplet {
namespace {

constexpr std::size_t longestName = 120; // characters

const std::vector<std::string_view> kinds = {"coupler", "calibrator", "earphone",
                                             "drive source"}; // as Item orders them

std::string readName(Fields& fields)
{
    auto name = fields.text("name");
    const auto characters = charactersOf(name).value_or(std::u32string());
    const auto isControl = [](char32_t c) { return c < 0x20 || (c >= 0x7F && c < 0xA0); };
    if (characters.empty() || characters.size() > longestName)
        fields.refuse("name", fmt::format("has {} characters, but must have 1 to {}; give another name",
                                          characters.size(), longestName));
    else if (std::any_of(characters.begin(), characters.end(), isControl))
        fields.refuse("name", fmt::format("holds a line break or control character: {}; take it out", inQuotes(name)));
    return name;
}

void checkVersion(Fields& fields)
{
    const double version = fields.number("version");
    const bool namesOlder = fields.has("olderReferences");
    if (namesOlder && version == versionWithOlder)
        return;
    if (namesOlder && version == libraryVersion)
        fields.refuse("version",
                      fmt::format("is {}, but must be {} where older references are in other files; correct it",
                                  printedNumber(version), versionWithOlder));
    else if (version > libraryVersion)
        fields.refuse("version", fmt::format("is {}, but this Couplet reads version {}; read the file with a newer "
                                             "Couplet",
                                             printedNumber(version), libraryVersion));
    else if (version != libraryVersion)
        fields.refuse("version",
                      fmt::format("is {}, but must be {}; correct it", printedNumber(version), libraryVersion));
}

template <class T> Item named(T item, const std::string& name)
{
    item.name = name;
    return item;
}

Item readItem(Fields& fields)
{
    checkVersion(fields); // first: a newer version may have kinds of its own
    const auto kind = fields.oneOf("kind", kinds);
    auto name = readName(fields);
    switch (kind) {
    case 0:
        return named(couplerFrom(fields), name);
    case 1:
        return named(calibratorFrom(fields), name);
    case 2:
        return named(earphoneFrom(fields), name);
    default:
        return named(driveSourceFrom(fields), name);
    }
}

} // namespace

const std::string& nameOf(const Item& item)
{
    return std::visit([](const auto& i) -> const std::string& { return i.name; }, item);
}

std::string kindOf(const Item& item)
{
    return std::string(kinds[item.index()]);
}

std::string textOf(const Item& item)
{
    auto object = std::visit([](const auto& i) { return fieldsOf(i); }, item);
    object.emplace_back("kind", kindOf(item));
    const auto* coupler = std::get_if<Coupler>(&item);
    object.emplace_back("version", coupler != nullptr && !coupler->older.empty() ? versionWithOlder : libraryVersion);
    object.emplace_back("name", nameOf(item));
    return printedJson(object, JsonLayout::file);
}

std::string titleOf(const Item& item)
{
    return kindOf(item) + " " + inQuotes(nameOf(item));
}

JsonValue jsonOf(const Item& item)
{
    auto value = parsedJson(textOf(item), nameOf(item), largestBundle_bytes);
    return value ? *std::move(value) : JsonValue(); // what was printed here reads back
}

Outcome<Item> itemFrom(std::string_view text, const std::string& where, std::size_t most_bytes)
{
    const auto root = parsedJson(text, where, most_bytes);
    if (!root)
        return root.fault();
    FirstFault faults(where);
    Fields fields(*root->as<JsonObject>(), "", faults); // parsedJson lets only an object pass
    auto item = readItem(fields);
    fields.refuseUnknown();
    if (faults.fault())
        return *faults.fault();
    return item;
}

Outcome<Item> withKeptName(Item item, const std::string& where)
{
    auto name = keptName(nameOf(item));
    if (name.empty())
        return Fault{fmt::format("{}: name has no character that can be seen; give another name", where)};
    std::visit([&](auto& each) { each.name = std::move(name); }, item);
    return item;
}

const Item* itemNamed(const std::vector<Item>& items, const std::string& kind, const std::string& name)
{
    const Item* alike = nullptr;
    int count = 0;
    for (const auto& item : items) {
        if (!lookTheSame(nameOf(item), name) || kindOf(item) != kind)
            continue;
        if (nameOf(item) == name)
            return &item;
        alike = &item;
        ++count;
    }
    return count == 1 ? alike : nullptr;
}

ItemsByName::ItemsByName(const std::vector<Item>& items)
{
    for (const auto& item : items)
        looks.emplace(std::pair(item.index(), lookOf(nameOf(item))), &item);
}

const Item* ItemsByName::find(const Item& like) const
{
    const auto [first, last] = looks.equal_range({like.index(), lookOf(nameOf(like))});
    for (auto look = first; look != last; ++look)
        if (nameOf(*look->second) == nameOf(like))
            return look->second;
    return first != last && std::next(first) == last ? first->second : nullptr;
}

void putIfAny(JsonObject& object, const char* name, const std::optional<double>& value)
{
    if (value)
        object.emplace_back(name, *value);
}

void putIfAny(JsonObject& object, const char* name, const std::optional<int>& value)
{
    if (value)
        object.emplace_back(name, *value);
}

void putIfAny(JsonObject& object, const char* name, const std::string& value)
{
    if (!value.empty())
        object.emplace_back(name, value);
}

void putIfAny(JsonObject& object, const char* name, bool value)
{
    if (value)
        object.emplace_back(name, value);
}

void putIfAny(JsonObject& object, const char* name, JsonList value)
{
    if (!value.empty())
        object.emplace_back(name, std::move(value));
}

void putIfAny(JsonObject& object, const char* name, const std::vector<std::string>& value)
{
    putIfAny(object, name, JsonList(value.begin(), value.end()));
}

} // namespace couplet
