// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Json.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace couplet {
namespace {

constexpr std::size_t longestRow = 100; // characters of a row that stays on one line

std::string inForm(double value, std::chars_format form)
{
    char buffer[32];
    const auto end = std::to_chars(std::begin(buffer), std::end(buffer), value, form).ptr;
    return {std::begin(buffer), end};
}

// JUCE's parser keeps integers as integers (losing the sign of zero, overflowing silently) and reads 18
// digits of a fraction, zeros in front included.
bool readsExactlyAsFixed(std::string_view text)
{
    constexpr std::size_t safeIntegerDigits = 15, safeDigits = 18;
    const auto digits = text.size() - (text.front() == '-' ? 1 : 0);
    return text.find('.') == std::string_view::npos ? digits <= safeIntegerDigits : digits - 1 <= safeDigits;
}

class Printer
{
public:
    explicit Printer(JsonLayout l) : layout(l) {}

    std::string print(const JsonValue& value, std::size_t depth) const
    {
        if (const auto* list = value.as<JsonList>())
            return container(entriesOf(*list, depth), '[', ']', depth);
        if (const auto* object = value.as<JsonObject>())
            return container(entriesOf(*object, depth), '{', '}', depth);
        return scalar(value);
    }

private:
    JsonLayout layout;

    struct Entries
    {
        std::vector<std::string> texts;
        bool flat = true; // none of them is a container
    };

    static bool isScalar(const JsonValue& value) { return !value.as<JsonList>() && !value.as<JsonObject>(); }

    static std::string scalar(const JsonValue& value)
    {
        if (const auto* text = value.as<std::string>())
            return printedText(*text);
        if (const auto* number = value.as<double>())
            return printedNumber(*number);
        if (const auto* yes = value.as<bool>())
            return *yes ? "true" : "false";
        return "null";
    }

    Entries entriesOf(const JsonList& list, std::size_t depth) const
    {
        Entries entries;
        for (const auto& value : list) {
            entries.flat = entries.flat && isScalar(value);
            entries.texts.push_back(print(value, depth + 1));
        }
        return entries;
    }

    Entries entriesOf(const JsonObject& object, std::size_t depth) const
    {
        std::vector<const JsonObject::value_type*> fields;
        for (const auto& field : object)
            fields.push_back(&field);
        if (layout == JsonLayout::file)
            std::stable_sort(fields.begin(), fields.end(),
                             [](const auto* a, const auto* b) { return a->first < b->first; });
        Entries entries;
        for (const auto* field : fields) {
            entries.flat = entries.flat && isScalar(field->second);
            entries.texts.push_back(printedText(field->first) + ": " + print(field->second, depth + 1));
        }
        return entries;
    }

    std::string container(const Entries& entries, char open, char close, std::size_t depth) const
    {
        const auto row = fmt::format("{}{}{}", open, fmt::join(entries.texts, ", "), close);
        const bool isRoot = depth == 0;
        const bool fits = entries.flat && !isRoot && row.size() <= longestRow;
        if (layout == JsonLayout::line || fits || entries.texts.empty())
            return row;
        const std::string indent(2 * depth, ' ');
        return fmt::format("{}\n{}  {}\n{}{}", open, indent, fmt::join(entries.texts, ",\n" + indent + "  "), indent,
                           close);
    }
};

} // namespace

std::string printedNumber(double value)
{
    if (!std::isfinite(value))
        return "null";
    if (value == 0.0)
        return std::signbit(value) ? "-0.0" : "0";
    char buffer[32];
    const std::string shortest(buffer, std::to_chars(std::begin(buffer), std::end(buffer), value).ptr);
    const bool isFixed = shortest.find('e') == std::string::npos;
    return isFixed && !readsExactlyAsFixed(shortest) ? inForm(value, std::chars_format::scientific) : shortest;
}

std::string printedText(std::string_view text)
{
    std::string printed = "\"";
    for (const char c : text) {
        switch (c) {
        case '"':
            printed += "\\\"";
            break;
        case '\\':
            printed += "\\\\";
            break;
        case '\n':
            printed += "\\n";
            break;
        case '\r':
            printed += "\\r";
            break;
        case '\t':
            printed += "\\t";
            break;
        default:
            if (static_cast<unsigned char>(c) < 0x20)
                printed += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
            else
                printed += c;
        }
    }
    return printed + "\"";
}

std::string printedJson(const JsonValue& value, JsonLayout layout)
{
    auto text = Printer(layout).print(value, 0);
    if (layout == JsonLayout::file)
        text += '\n';
    return text;
}

} // namespace couplet
