// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Json.h"
#include "Library/JsonScan.h"

#include <fmt/format.h>
#include <juce_core/juce_core.h>

namespace couplet {
namespace {

JsonValue valueOf(const juce::var& from)
{
    if (from.isBool())
        return static_cast<bool>(from);
    if (from.isInt() || from.isInt64() || from.isDouble())
        return static_cast<double>(from);
    if (from.isString())
        return from.toString().toStdString();
    if (const auto* array = from.getArray()) {
        JsonList list;
        for (const auto& value : *array)
            list.push_back(valueOf(value));
        return list;
    }
    if (const auto* dynamic = from.getDynamicObject()) {
        JsonObject object;
        for (const auto& field : const_cast<juce::DynamicObject*>(dynamic)->getProperties())
            object.emplace_back(field.name.toString().toStdString(), valueOf(field.value));
        return object;
    }
    return {};
}

// JUCE says "12:5: error: Expected ':'".
Fault syntaxFault(const std::string& where, const juce::String& message)
{
    const auto line = message.upToFirstOccurrenceOf(":", false, false).toStdString();
    auto what = message.fromFirstOccurrenceOf("error: ", false, false).toStdString();
    if (!what.empty())
        what.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(what.front())));
    return Fault{fmt::format("{}, line {}: {}; mend it there", where, line, what)};
}

} // namespace

Outcome<JsonValue> parsedJson(std::string_view text, const std::string& where)
{
    const auto scanned = scannedJson(text, where);
    if (!scanned)
        return scanned.fault();
    juce::var root;
    const auto result = juce::JSON::parse(juce::String::fromUTF8(scanned->c_str()), root);
    if (result.failed())
        return syntaxFault(where, result.getErrorMessage());
    return valueOf(root);
}

} // namespace couplet
