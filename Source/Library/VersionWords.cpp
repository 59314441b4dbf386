// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/VersionWords.h"

#include "Library/ItemJson.h"
#include "Library/Utf8.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace couplet {
namespace {

struct Word
{
    std::string_view field, label;
};

// Fields that are not called in words as in the file; the others are.
constexpr Word words[] = {{"couplerKind", "kind"},
                          {"gainNote", "gain note"},
                          {"response", "response table"},
                          {"responseSource", "source of the response table"},
                          {"allowedAge_h", "allowed age"},
                          {"judged", "uncertainty terms"},
                          {"pressureLaw", "pressure law"},
                          {"tones", "levels"},
                          {"due", "due date"},
                          {"keptAside", "kept aside"},
                          {"choseCorrectionOf", "corrections it took part in"},
                          {"chosenBy", "earphones that chose it"},
                          {"includesCalibrator", "whether it includes the calibrator"},
                          {"fullScale_V", "full scale"},
                          {"source_ohm", "source impedance"},
                          {"ratedSource_ohm", "source impedance"},
                          {"meterAccuracy_percent", "voltmeter's accuracy"},
                          {"impedanceTolerance_percent", "impedance tolerance"},
                          {"U_dB", "U"}};
constexpr Word units[] = {{"_dB", " dB"},      {"_h", " h"},       {"_Hz", " Hz"},  {"_V", " V"},
                          {"_ohm", " \u03a9"}, {"_percent", " %"}, {"_kPa", " kPa"}};
constexpr std::string_view arrow = " \u2192 ";

std::string unitOf(std::string_view field)
{
    const auto* unit =
        std::find_if(std::begin(units), std::end(units), [&](const Word& u) { return field.ends_with(u.field); });
    return unit == std::end(units) ? "" : std::string(unit->label);
}

std::string labelOf(std::string_view field)
{
    const auto* word =
        std::find_if(std::begin(words), std::end(words), [&](const Word& w) { return w.field == field; });
    if (word != std::end(words))
        return std::string(word->label);
    return std::string(field.substr(0, field.find('_')));
}

std::string numberText(double value, int decimals)
{
    auto text = fmt::format("{:.{}f}", roundedHalfAway(value, decimals), decimals);
    if (text.starts_with('-'))
        text.replace(0, 1, "\u2212");
    return text;
}

// Two numbers with the decimals that tell them apart: of decibels two at least.
std::string numbersText(double before, double after, const std::string& unit)
{
    constexpr int most = 9;
    int decimals = unit == " dB" ? 2 : 0;
    const auto isWhole = [&](double value) {
        return std::abs(roundedHalfAway(value, decimals) - value) <= 1e-3 * std::abs(after - before);
    };
    while (decimals < most && !(isWhole(before) && isWhole(after)) &&
           (decimals < 2 || numberText(before, decimals) == numberText(after, decimals)))
        ++decimals;
    return numberText(before, decimals) + std::string(arrow) + numberText(after, decimals) + unit;
}

std::string valueText(const JsonValue* value, const std::string& unit)
{
    if (value == nullptr)
        return "none";
    if (const auto* number = value->as<double>())
        return (unit == " dB" ? numberText(*number, 2) : fmt::format("{:g}", *number)) + unit;
    if (const auto* text = value->as<std::string>())
        return inQuotes(*text);
    return "yes"; // what is 'no' is left out
}

bool isShort(const JsonValue* value)
{
    constexpr std::size_t longest = 24;
    const auto* text = value ? value->as<std::string>() : nullptr;
    const bool isParts = value && (value->as<JsonList>() || value->as<JsonObject>());
    return !isParts && (!text || charactersOf(*text).value_or(std::u32string()).size() <= longest);
}

std::string phraseOf(const std::string& label, std::string_view field, const JsonValue* before, const JsonValue* after)
{
    const auto unit = unitOf(field);
    const auto *a = before ? before->as<double>() : nullptr, *b = after ? after->as<double>() : nullptr;
    if (a && b)
        return label + " " + numbersText(*a, *b, unit);
    if (isShort(before) && isShort(after))
        return label + " " + valueText(before, unit) + std::string(arrow) + valueText(after, unit);
    return label + (before == nullptr ? " added" : after == nullptr ? " taken away" : " changed");
}

bool isSame(const JsonValue* a, const JsonValue* b)
{
    return (a == nullptr) == (b == nullptr) &&
           (a == nullptr || printedJson(*a, JsonLayout::line) == printedJson(*b, JsonLayout::line));
}

const JsonValue* valueIn(const JsonObject& object, std::string_view name)
{
    const auto found = std::find_if(object.begin(), object.end(), [&](const auto& f) { return f.first == name; });
    return found == object.end() ? nullptr : &found->second;
}

// Fields of either, in the order of the first, that differ.
std::vector<std::string> differingFields(const JsonObject& before, const JsonObject& after)
{
    std::vector<std::string> names;
    for (const auto* object : {&before, &after})
        for (const auto& [name, value] : *object)
            if (std::find(names.begin(), names.end(), name) == names.end() &&
                !isSame(valueIn(before, name), valueIn(after, name)))
                names.push_back(name);
    return names;
}

// A correction or a rating: by its value where that differs, else by the first part that does.
std::string partPhrase(std::string_view field, std::string_view main, const JsonValue* before, const JsonValue* after)
{
    const auto label = labelOf(field);
    const JsonObject none;
    const auto *old = before ? before->as<JsonObject>() : nullptr, *next = after ? after->as<JsonObject>() : nullptr;
    const auto &a = old ? *old : none, &b = next ? *next : none;
    const auto differing = differingFields(a, b);
    if (std::find(differing.begin(), differing.end(), main) != differing.end())
        return phraseOf(label, main, valueIn(a, main), valueIn(b, main));
    const auto& part = differing.front();
    return label + ": " + phraseOf(labelOf(part), part, valueIn(a, part), valueIn(b, part));
}

std::string counted(std::ptrdiff_t count, const char* after)
{
    return fmt::format("{} reference{} {}", count, count == 1 ? "" : "s", after);
}

void addReferences(std::vector<std::string>& phrases, const std::vector<Reference>& before,
                   const std::vector<Reference>& after)
{
    const auto more = static_cast<std::ptrdiff_t>(after.size()) - static_cast<std::ptrdiff_t>(before.size());
    if (more > 0)
        phrases.push_back(counted(more, "more"));
    if (more < 0)
        phrases.push_back(counted(-more, "fewer"));
    std::ptrdiff_t aside = 0, again = 0;
    auto at = after.begin();
    for (const auto& old : before) {
        const auto same = std::find_if(at, after.end(), [&](const Reference& r) { return r.takenAt == old.takenAt; });
        if (same == after.end())
            continue;
        aside += old.setAside.empty() && !same->setAside.empty() ? 1 : 0;
        again += !old.setAside.empty() && same->setAside.empty() ? 1 : 0;
        at = same + 1;
    }
    if (aside > 0)
        phrases.push_back(counted(aside, "set aside"));
    if (again > 0)
        phrases.push_back(counted(again, again == 1 ? "counts again" : "count again"));
}

JsonObject fieldsWithoutHistory(const Item& item)
{
    if (const auto* coupler = std::get_if<Coupler>(&item)) {
        auto bare = *coupler;
        bare.references.clear();
        return fieldsOf(bare);
    }
    return std::visit([](const auto& each) { return fieldsOf(each); }, item);
}

} // namespace

std::string changeWords(const Item& before, const Item& after)
{
    std::vector<std::string> phrases;
    if (nameOf(before) != nameOf(after))
        phrases.push_back("renamed " + inQuotes(nameOf(before)) + std::string(arrow) + inQuotes(nameOf(after)));
    const auto a = fieldsWithoutHistory(before), b = fieldsWithoutHistory(after);
    const auto differing = differingFields(a, b);
    for (const std::string main : {"correction", "rating"}) // first: it is what counts
        if (std::find(differing.begin(), differing.end(), main) != differing.end())
            phrases.push_back(
                partPhrase(main, main == "rating" ? "level_dB" : "value_dB", valueIn(a, main), valueIn(b, main)));
    for (const auto& name : differing)
        if (name != "correction" && name != "rating")
            phrases.push_back(phraseOf(labelOf(name), name, valueIn(a, name), valueIn(b, name)));
    const auto *old = std::get_if<Coupler>(&before), *next = std::get_if<Coupler>(&after);
    if (old && next)
        addReferences(phrases, old->references, next->references);
    std::string text;
    constexpr std::size_t most = 2;
    for (std::size_t i = 0; i < std::min(most, phrases.size()); ++i)
        text += (i == 0 ? "" : ", ") + phrases[i];
    if (phrases.size() > most)
        text += fmt::format(", and {} more change{}", phrases.size() - most, phrases.size() - most == 1 ? "" : "s");
    if (text.empty() && !(before == after))
        text = "order of the references";
    return text;
}

} // namespace couplet
