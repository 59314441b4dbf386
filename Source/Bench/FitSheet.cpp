// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitSheet.h"

#include "Bench/FitEarphones.h"
#include "Library/ItemJson.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <string>

namespace couplet {
namespace {

constexpr Range levels_dB{lowestFitLevel_dB, highestFitLevel_dB};
constexpr Range expectedLevels_dB{-1000.0, 1000.0};
constexpr Range spreads_dB{0.0, 100.0};
// What follows from insertions lies farther out than each of them can.
constexpr Range followingLevels_dB{-3000.0, 3000.0};
constexpr Range followingSpreads_dB{0.0, 3000.0};
constexpr Range frequencies_Hz{0.0, 1e6, false};

JsonList listOf(const std::vector<FitReading>& readings)
{
    JsonList list;
    for (const auto& reading : readings) {
        JsonObject row{{"level_dB", reading.level_dB}};
        putIfAny(row, "at_s", reading.at_s);
        putIfAny(row, "calibrator", reading.calibrator);
        putIfAny(row, "frequency_Hz", reading.frequency);
        putIfAny(row, "setAside", reading.setAside);
        list.push_back(std::move(row));
    }
    return list;
}

JsonList listOf(const std::vector<FitInsertion>& insertions)
{
    JsonList list;
    for (const auto& insertion : insertions) {
        JsonObject row{{"level_dB", insertion.level_dB}};
        putIfAny(row, "expected_dB", insertion.expected_dB);
        if (insertion.u_rest_dB) {
            row.emplace_back("u_rest_dB", *insertion.u_rest_dB);
            row.emplace_back("u_insertion_dB", insertion.u_insertion_dB);
            if (insertion.u_shared_dB > 0.0)
                row.emplace_back("u_shared_dB", insertion.u_shared_dB);
        }
        putIfAny(row, "at_s", insertion.at_s);
        putIfAny(row, "seatedAnew", insertion.seatedAnew);
        putIfAny(row, "setAside", insertion.setAside);
        list.push_back(std::move(row));
    }
    return list;
}

JsonObject jsonOf(const FitEarphone& e)
{
    JsonObject object{{"name", e.name}, {"level_dB", e.level_dB}, {"expected_dB", e.expected_dB}};
    putIfAny(object, "tolerance_dB", e.tolerance_dB);
    putIfAny(object, "u_dB", e.u_dB);
    if (e.u_shared_dB > 0.0)
        object.emplace_back("u_shared_dB", e.u_shared_dB);
    putIfAny(object, "keptAside", e.keptAside);
    putIfAny(object, "setAside", e.setAside);
    putIfAny(object, "insertions", listOf(e.insertions));
    if (!e.insertions.empty())
        putIfAny(object, "u_stated_dB", e.u_stated_dB);
    return object;
}

JsonObject jsonOf(const FitSettings& s)
{
    JsonObject object{{"microphoneBuiltIn", s.microphoneBuiltIn},
                      {"u_transfer_dB", s.u_transfer_dB},
                      {"u_adapter_dB", s.u_adapter_dB},
                      {"u_seating_dB", s.u_seating_dB}};
    putIfAny(object, "u_calibrator_dB", s.u_calibrator_dB);
    putIfAny(object, "frequency_Hz", s.frequency);
    putIfAny(object, "calibrator", s.calibrator);
    return object;
}

std::vector<FitReading> readingsFrom(Fields& owner)
{
    std::vector<FitReading> readings;
    for (auto& row : owner.objectsIfAny("readings")) {
        FitReading reading;
        reading.level_dB = row.number("level_dB", levels_dB);
        reading.at_s = row.numberIfAny("at_s");
        reading.calibrator = row.textIfAny("calibrator");
        reading.frequency = row.quantityIfAny<Hertz>("frequency_Hz", frequencies_Hz);
        reading.setAside = row.textIfAny("setAside");
        row.refuseUnknown();
        readings.push_back(std::move(reading));
    }
    return readings;
}

template <class Named> std::string newName(Fields& fields, const std::vector<Named>& others)
{
    auto name = fields.text("name");
    const auto characters = charactersOf(name);
    if (!characters || characters->empty() || characters->size() > longestFitName)
        fields.refuse("name", fmt::format("must have 1 to {} characters; correct it", longestFitName));
    else if (std::any_of(others.begin(), others.end(), [&](const Named& other) { return other.name == name; }))
        fields.refuse("name", "stands twice; give each a name of its own");
    return name;
}

void insertionsFrom(Fields& fields, FitEarphone& e)
{
    const auto older_dB = fields.numbersIfAny("insertions_dB", expectedLevels_dB);
    for (auto& row : fields.objectsIfAny("insertions")) {
        FitInsertion insertion;
        insertion.level_dB = row.number("level_dB", expectedLevels_dB);
        insertion.expected_dB = row.numberIfAny("expected_dB", expectedLevels_dB);
        insertion.u_rest_dB = row.numberIfAny("u_rest_dB", spreads_dB);
        if (insertion.u_rest_dB) {
            insertion.u_insertion_dB = row.number("u_insertion_dB", spreads_dB);
            insertion.u_shared_dB = row.numberIfAny("u_shared_dB", spreads_dB).value_or(0.0);
        }
        insertion.at_s = row.numberIfAny("at_s");
        insertion.seatedAnew = row.yesIfAny("seatedAnew");
        insertion.setAside = row.textIfAny("setAside");
        row.refuseUnknown();
        if (!e.insertions.empty() && e.insertions.front().expected_dB.has_value() != insertion.expected_dB.has_value())
            row.refuse("expected_dB", "stands at some insertions and not at all of them; give each its own");
        e.insertions.push_back(std::move(insertion));
    }
    if (!e.insertions.empty()) {
        e.u_stated_dB = fields.numberIfAny("u_stated_dB", spreads_dB);
        markInsertions(e); // given whole, any reason is one
    }
    if (older_dB.empty())
        return;
    if (!e.insertions.empty())
        return fields.refuse("insertions_dB", "stands beside 'insertions', which says it anew; keep one of them");
    takeInsertions(e, older_dB);
}

FitEarphone earphoneFrom(Fields& fields, const std::vector<FitEarphone>& others)
{
    FitEarphone e;
    e.name = newName(fields, others);
    e.level_dB = fields.number("level_dB", followingLevels_dB);
    e.expected_dB = fields.number("expected_dB", expectedLevels_dB);
    e.tolerance_dB = fields.numberIfAny("tolerance_dB", spreads_dB);
    e.u_dB = fields.numberIfAny("u_dB", followingSpreads_dB);
    e.u_shared_dB = fields.numberIfAny("u_shared_dB", spreads_dB).value_or(0.0);
    e.keptAside = fields.yesIfAny("keptAside");
    e.setAside = fields.textIfAny("setAside");
    insertionsFrom(fields, e);
    fields.refuseUnknown();
    return e;
}

FitSettings settingsFrom(Fields fields)
{
    FitSettings s;
    s.microphoneBuiltIn = fields.yesOrNo("microphoneBuiltIn");
    s.u_transfer_dB = fields.number("u_transfer_dB", spreads_dB);
    s.u_adapter_dB = fields.number("u_adapter_dB", spreads_dB);
    s.u_seating_dB = fields.number("u_seating_dB", spreads_dB);
    s.u_calibrator_dB = fields.numberIfAny("u_calibrator_dB", spreads_dB);
    s.frequency = fields.quantityIfAny<Hertz>("frequency_Hz", frequencies_Hz);
    s.calibrator = fields.textIfAny("calibrator");
    fields.refuseUnknown();
    return s;
}

} // namespace

bool holdsReadings(const FitInput& input)
{
    return !input.through.readings.empty() ||
           std::any_of(input.fittings.begin(), input.fittings.end(),
                       [](const FitGroup& fitting) { return !fitting.readings.empty(); }) ||
           std::any_of(input.earphones.begin(), input.earphones.end(),
                       [](const FitEarphone& e) { return e.setAside != notReadYet; });
}

JsonObject jsonOf(const FitSheet& sheet)
{
    JsonList fittings, earphones;
    for (const auto& fitting : sheet.input.fittings)
        fittings.push_back(JsonObject{{"name", fitting.name}, {"readings", listOf(fitting.readings)}});
    for (const auto& e : sheet.input.earphones)
        earphones.push_back(jsonOf(e));
    JsonObject object{{"fittings", std::move(fittings)},
                      {"through", JsonObject{{"readings", listOf(sheet.input.through.readings)}}},
                      {"earphones", std::move(earphones)},
                      {"settings", jsonOf(sheet.input.settings)}};
    putIfAny(object, "zero_dB", sheet.zero_dB);
    putIfAny(object, "certified_dB", sheet.certified_dB);
    putIfAny(object, "noCalibrator", sheet.noCalibrator);
    putIfAny(object, "coupler", sheet.coupler);
    return object;
}

std::size_t bytesOf(const FitSheet& sheet)
{
    return printedJson(JsonObject{{"fit", jsonOf(sheet)}}, JsonLayout::file).size();
}

FitSheet fitSheetFrom(Fields& fields)
{
    FitSheet sheet;
    for (auto& each : fields.objectsIfAny("fittings")) {
        FitGroup fitting{newName(each, sheet.input.fittings), readingsFrom(each)};
        each.refuseUnknown();
        sheet.input.fittings.push_back(std::move(fitting));
    }
    auto through = fields.objectNeeded("through");
    sheet.input.through.readings = readingsFrom(through);
    through.refuseUnknown();
    for (auto& each : fields.objectsIfAny("earphones"))
        sheet.input.earphones.push_back(earphoneFrom(each, sheet.input.earphones));
    sheet.input.settings = settingsFrom(fields.objectNeeded("settings"));
    sheet.zero_dB = fields.numberIfAny("zero_dB", expectedLevels_dB);
    sheet.certified_dB = fields.numberIfAny("certified_dB", levels_dB);
    sheet.noCalibrator = fields.yesIfAny("noCalibrator");
    sheet.coupler = fields.textIfAny("coupler");
    if (sheet.input.fittings.size() > mostFittings)
        fields.refuse("fittings", fmt::format("are more than {}; take some out", mostFittings));
    if (sheet.input.earphones.size() > mostFitEarphones)
        fields.refuse("earphones", fmt::format("are more than {}; take some out", mostFitEarphones));
    fields.refuseUnknown();
    return sheet;
}

} // namespace couplet
