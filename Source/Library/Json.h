// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

// Purpose: JSON as the library keeps it: a value that can be printed and had back without losing a bit.
// Source:  RFC 8259, read more strictly than most: no name twice in an object, no lone surrogates, no character 0.
// Thread:  any but audio.
namespace couplet {

struct JsonValue;
using JsonList = std::vector<JsonValue>;
using JsonObject = std::vector<std::pair<std::string, JsonValue>>;

struct JsonValue
{
    std::variant<std::monostate, bool, double, std::string, JsonList, JsonObject> content; // monostate is null

    JsonValue() = default;
    JsonValue(bool v) : content(v) {}
    JsonValue(double v) : content(v) {}
    JsonValue(int v) : content(static_cast<double>(v)) {}
    JsonValue(std::optional<double> v) // absent is null
    {
        if (v)
            content = *v;
    }
    JsonValue(std::string v) : content(std::move(v)) {}
    JsonValue(const char* v) : content(std::string(v)) {}
    JsonValue(JsonList v) : content(std::move(v)) {}
    JsonValue(JsonObject v) : content(std::move(v)) {}

    template <class T> const T* as() const { return std::get_if<T>(&content); }
};

enum class JsonLayout {
    file, // names sorted, indented, one short row a line, a line break at the end: for a diff to read well
    line  // names as given, no line break anywhere: for `readings.jsonl` and for programs
};

// A number that is not finite is printed as null, which reading a number then refuses.
std::string printedJson(const JsonValue&, JsonLayout);

// The shortest text that reads back as the same double, in a form that every parser in use reads exactly.
std::string printedNumber(double);

// `text` in double quotes, escaped; characters beyond ASCII stay as they are.
std::string printedText(std::string_view text);

inline constexpr std::size_t largestJson_bytes = 4u << 20;    // a file of the library
inline constexpr std::size_t largestBundle_bytes = 64u << 20; // a whole library, or a coupler with a long history
inline constexpr std::size_t deepestJson = 64;

// The value, or one sentence that names `where`, the line and the mend. At most so many bytes and 64 levels deep,
// UTF-8, an object at its root.
Outcome<JsonValue> parsedJson(std::string_view text, const std::string& where,
                              std::size_t most_bytes = largestJson_bytes);

} // namespace couplet
