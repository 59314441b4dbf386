// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Fields.h"

#include "Library/IsoTime.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

std::string_view typeOf(const JsonValue& value)
{
    constexpr std::string_view words[] = {"null", "true or false", "a number", "text", "a list", "an object"};
    return words[value.content.index()];
}

std::string mendFor(const JsonValue& value, std::string_view wanted, bool needed)
{
    if (value.as<std::monostate>())
        return needed ? "give it" : "give it, or leave the field out where there is none";
    if (!value.as<std::string>())
        return "correct it";
    return wanted == "a number" || wanted == "true or false" ? "write it without quotes" : "correct it";
}

} // namespace

void FirstFault::say(const std::string& path, const std::string& what)
{
    if (!first)
        first = Fault{fmt::format("{}: {} {}", where, path, what)};
}

std::string Range::text() const
{
    constexpr double unlimited = std::numeric_limits<double>::max();
    if (high == unlimited)
        return lowIncluded ? fmt::format("{} or more", low) : fmt::format("above {}", low);
    return fmt::format("within {} to {}", low, high);
}

std::string Fields::pathOf(std::string_view name) const
{
    return path.empty() ? std::string(name) : fmt::format("{}.{}", path, name);
}

const JsonValue* Fields::find(std::string_view name) const
{
    const auto found =
        std::find_if(object->begin(), object->end(), [&](const auto& field) { return field.first == name; });
    return found == object->end() ? nullptr : &found->second;
}

const JsonValue* Fields::take(std::string_view name)
{
    taken.push_back(name);
    return find(name);
}

void Fields::refuse(std::string_view name, const std::string& what)
{
    faults->say(pathOf(name), what);
}

template <class T> const T* Fields::takeAs(std::string_view name, bool needed, std::string_view what)
{
    const auto* value = take(name);
    if (!value) {
        if (needed)
            refuse(name, fmt::format("is missing; add it as {}", what));
        return nullptr;
    }
    const auto* content = value->as<T>();
    if (!content)
        refuse(name, fmt::format("is {}, but must be {}; {}", typeOf(*value), what, mendFor(*value, what, needed)));
    return content;
}

double Fields::checked(std::string_view name, double value, Range range)
{
    if (!range.holds(value))
        refuse(name, fmt::format("is {}, but must be {}; correct it", printedNumber(value), range.text()));
    return value;
}

double Fields::number(std::string_view name, Range range)
{
    const auto* value = takeAs<double>(name, true, "a number");
    return value ? checked(name, *value, range) : 0.0;
}

std::optional<double> Fields::numberIfAny(std::string_view name, Range range)
{
    const auto* value = takeAs<double>(name, false, "a number");
    return value ? std::optional<double>(checked(name, *value, range)) : std::nullopt;
}

int Fields::whole(std::string_view name, int low, int high)
{
    const double value = number(name);
    const bool holds = value >= low && value <= high && value == std::floor(value);
    if (!holds && has(name))
        refuse(name, fmt::format("is {}, but must be a whole number within {} to {}; correct it", printedNumber(value),
                                 low, high));
    return holds ? static_cast<int>(value) : low;
}

std::optional<int> Fields::wholeIfAny(std::string_view name, int low, int high)
{
    return has(name) ? std::optional<int>(whole(name, low, high)) : (take(name), std::nullopt);
}

std::string Fields::text(std::string_view name)
{
    const auto* value = takeAs<std::string>(name, true, "text");
    return value ? *value : std::string();
}

std::string Fields::textIfAny(std::string_view name)
{
    const auto* value = takeAs<std::string>(name, false, "text");
    return value ? *value : std::string();
}

bool Fields::yesOrNo(std::string_view name)
{
    const auto* value = takeAs<bool>(name, true, "true or false");
    return value && *value;
}

bool Fields::yesIfAny(std::string_view name)
{
    const auto* value = takeAs<bool>(name, false, "true or false");
    return value && *value;
}

std::size_t Fields::oneOf(std::string_view name, const std::vector<std::string_view>& choices)
{
    const auto list = fmt::format("one of '{}'", fmt::join(choices, "', '"));
    const auto* value = takeAs<std::string>(name, true, list);
    if (!value)
        return 0;
    const auto found = std::find(choices.begin(), choices.end(), *value);
    if (found != choices.end())
        return static_cast<std::size_t>(found - choices.begin());
    refuse(name, fmt::format("is {}, but must be {}; correct it, or read the file with a newer Couplet",
                             inQuotes(*value), list));
    return 0;
}

std::string Fields::time(std::string_view name)
{
    const auto value = text(name);
    if (!instantFrom(value))
        refuse(name, fmt::format("is {}, but must be a time like '2026-05-03T12:04:11Z'; correct it", inQuotes(value)));
    return value;
}

std::string Fields::dateIfAny(std::string_view name)
{
    const auto value = textIfAny(name);
    if (!value.empty() && !isIsoDate(value) && !instantFrom(value))
        refuse(name, fmt::format("is {}, but must be a date like '2026-05-03'; correct it", inQuotes(value)));
    return value;
}

std::vector<Fields> Fields::objectsIfAny(std::string_view name)
{
    std::vector<Fields> objects;
    const auto* list = takeAs<JsonList>(name, false, "a list");
    for (std::size_t i = 0; list && i < list->size(); ++i) {
        const auto place = fmt::format("{}[{}]", name, i);
        if (const auto* entry = (*list)[i].as<JsonObject>())
            objects.emplace_back(*entry, pathOf(place), *faults);
        else
            refuse(place, fmt::format("is {}, but must be an object; correct it", typeOf((*list)[i])));
    }
    return objects;
}

std::optional<Fields> Fields::objectIfAny(std::string_view name)
{
    const auto* entry = takeAs<JsonObject>(name, false, "an object");
    return entry ? std::optional<Fields>(Fields(*entry, pathOf(name), *faults)) : std::nullopt;
}

Fields Fields::objectNeeded(std::string_view name)
{
    static const JsonObject nothing;
    const auto* entry = takeAs<JsonObject>(name, true, "an object");
    return {entry ? *entry : nothing, pathOf(name), *faults};
}

std::vector<std::string> Fields::textsIfAny(std::string_view name)
{
    std::vector<std::string> texts;
    const auto* list = takeAs<JsonList>(name, false, "a list");
    for (std::size_t i = 0; list && i < list->size(); ++i) {
        if (const auto* entry = (*list)[i].as<std::string>())
            texts.push_back(*entry);
        else
            refuse(fmt::format("{}[{}]", name, i),
                   fmt::format("is {}, but must be text; correct it", typeOf((*list)[i])));
    }
    return texts;
}

std::vector<double> Fields::numbersIfAny(std::string_view name, Range range)
{
    std::vector<double> numbers;
    const auto* list = takeAs<JsonList>(name, false, "a list");
    for (std::size_t i = 0; list && i < list->size(); ++i) {
        const auto place = fmt::format("{}[{}]", name, i);
        if (const auto* entry = (*list)[i].as<double>())
            numbers.push_back(checked(place, *entry, range));
        else
            refuse(place, fmt::format("is {}, but must be a number; correct it", typeOf((*list)[i])));
    }
    return numbers;
}

void Fields::refuseUnknown()
{
    for (const auto& [name, value] : *object)
        if (std::find(taken.begin(), taken.end(), name) == taken.end())
            refuse(onOneLine(name),
                   "is a field this Couplet does not know; take it out, or read the file with the newer "
                   "Couplet that wrote it");
}

} // namespace couplet
