// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Json.h"

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

// Purpose: taking the fields of a JSON object one by one, each checked for its type and range. The first fault is
//          kept and names the file and the field's path ("references[2].offset_dB", counted from 0); after it,
//          everything reads as a default, so that a reader can run to its end and look once.
// Thread:  any but audio.
namespace couplet {

class FirstFault
{
public:
    explicit FirstFault(std::string w) : where(std::move(w)) {}

    void say(const std::string& path, const std::string& what);
    const std::optional<Fault>& fault() const { return first; }

private:
    std::string where;
    std::optional<Fault> first;
};

struct Range
{
    double low = -std::numeric_limits<double>::max();
    double high = std::numeric_limits<double>::max();
    bool lowIncluded = true;

    bool holds(double v) const { return (lowIncluded ? v >= low : v > low) && v <= high; }
    std::string text() const; // "above 0", "0 or more", "within -40 to 40"
};
inline constexpr Range anyNumber{};
inline constexpr Range aboveZero{0.0, std::numeric_limits<double>::max(), false};
inline constexpr Range zeroOrMore{0.0};

class Fields
{
public:
    Fields(const JsonObject& o, std::string p, FirstFault& f) : object(&o), path(std::move(p)), faults(&f) {}

    bool has(std::string_view name) const { return find(name) != nullptr; }

    // Those without `IfAny` must be there.
    double number(std::string_view name, Range = anyNumber);
    std::optional<double> numberIfAny(std::string_view name, Range = anyNumber);
    int whole(std::string_view name, int low, int high);
    std::optional<int> wholeIfAny(std::string_view name, int low, int high);
    std::string text(std::string_view name);
    std::string textIfAny(std::string_view name); // empty when absent
    bool yesOrNo(std::string_view name);
    bool yesIfAny(std::string_view name); // false when absent
    std::size_t oneOf(std::string_view name, const std::vector<std::string_view>& choices);
    std::string dateIfAny(std::string_view name); // a date or a time of ISO 8601
    std::string time(std::string_view name);      // with its zone

    std::vector<Fields> objectsIfAny(std::string_view name);
    std::optional<Fields> objectIfAny(std::string_view name);
    Fields objectNeeded(std::string_view name);
    std::vector<std::string> textsIfAny(std::string_view name);
    std::vector<double> numbersIfAny(std::string_view name, Range = anyNumber);

    template <class Unit> Unit quantity(std::string_view name, Range range) { return Unit{number(name, range)}; }
    template <class Unit> std::optional<Unit> quantityIfAny(std::string_view name, Range range)
    {
        const auto value = numberIfAny(name, range);
        return value ? std::optional<Unit>(Unit{*value}) : std::nullopt;
    }

    // "<field> is 17, but must be within 0 to 16", for checks between fields.
    void refuse(std::string_view name, const std::string& what);

    // To be called last: a field that nothing took is refused, for dropping it silently would lose it.
    void refuseUnknown();

private:
    const JsonObject* object;
    std::string path;
    FirstFault* faults;
    std::vector<std::string_view> taken;

    std::string pathOf(std::string_view name) const;
    const JsonValue* find(std::string_view name) const;
    const JsonValue* take(std::string_view name);
    template <class T> const T* takeAs(std::string_view name, bool needed, std::string_view what);
    double checked(std::string_view name, double value, Range);
};

} // namespace couplet
