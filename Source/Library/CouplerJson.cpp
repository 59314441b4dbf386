// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/ItemJson.h"

#include "Library/Utf8.h"

#include <fmt/format.h>

namespace couplet {
namespace {

constexpr Range responses_dB{-40.0, 40.0};
constexpr int slots = 16;

JsonList listOf(const std::vector<ResponsePoint>& table)
{
    JsonList list;
    for (const auto& point : table)
        list.push_back(JsonObject{{"frequency_Hz", point.frequency.value}, {"response_dB", point.response_dB}});
    return list;
}

std::vector<ResponsePoint> responseFrom(Fields& coupler)
{
    std::vector<ResponsePoint> table;
    for (auto& row : coupler.objectsIfAny("response")) {
        const ResponsePoint point{row.quantity<Hertz>("frequency_Hz", aboveZero),
                                  row.number("response_dB", responses_dB)};
        if (!table.empty() && !(point.frequency > table.back().frequency))
            row.refuse("frequency_Hz",
                       fmt::format("is {}, but must be above the {} before it; put the rows in ascending order",
                                   point.frequency.value, table.back().frequency.value));
        table.push_back(point);
        row.refuseUnknown();
    }
    return table;
}

JsonList listOf(const std::vector<OlderReferences>& older)
{
    JsonList list;
    for (const auto& each : older)
        list.push_back(JsonObject{{"file", each.file},
                                  {"references", static_cast<double>(each.count)},
                                  {"from", each.from},
                                  {"to", each.to}});
    return list;
}

std::vector<OlderReferences> olderFrom(Fields& coupler)
{
    constexpr int mostReferences = 1000000;
    std::vector<OlderReferences> older;
    for (auto& row : coupler.objectsIfAny("olderReferences")) {
        OlderReferences each;
        each.file = row.text("file");
        // Beside the coupler's file and nowhere else.
        if (each.file.starts_with('.') || !each.file.ends_with(".history") ||
            each.file.find('/') != std::string::npos || each.file.find('\\') != std::string::npos)
            row.refuse("file",
                       fmt::format("is {}, but must be the name of a .history file in the same folder; correct it",
                                   inQuotes(each.file)));
        each.count = static_cast<std::size_t>(row.whole("references", 1, mostReferences));
        each.from = row.time("from");
        each.to = row.time("to");
        row.refuseUnknown();
        older.push_back(std::move(each));
    }
    return older;
}

JsonObject fieldsOf(const JudgedTerms& judged)
{
    JsonObject object;
    putIfAny(object, "seating_dB", judged.seating_dB);
    putIfAny(object, "drift_dB", judged.drift_dB);
    putIfAny(object, "linearity_dB", judged.linearity_dB);
    putIfAny(object, "barometer_kPa", judged.barometer);
    putIfAny(object, "response_dB", judged.response_dB);
    putIfAny(object, "insertion_dB", judged.insertion_dB);
    putIfAny(object, "coupler_dB", judged.coupler_dB);
    return object;
}

JudgedTerms judgedFrom(Fields& coupler)
{
    JudgedTerms judged;
    auto fields = coupler.objectIfAny("judged");
    if (!fields)
        return judged;
    judged.seating_dB = fields->numberIfAny("seating_dB", zeroOrMore);
    judged.drift_dB = fields->numberIfAny("drift_dB", zeroOrMore);
    judged.linearity_dB = fields->numberIfAny("linearity_dB", zeroOrMore);
    judged.barometer = fields->quantityIfAny<Kilopascals>("barometer_kPa", zeroOrMore);
    judged.response_dB = fields->numberIfAny("response_dB", zeroOrMore);
    judged.insertion_dB = fields->numberIfAny("insertion_dB", zeroOrMore);
    judged.coupler_dB = fields->numberIfAny("coupler_dB", zeroOrMore);
    fields->refuseUnknown();
    return judged;
}

} // namespace

JsonObject fieldsOf(const Correction& correction)
{
    JsonObject object{{"value_dB", correction.value_dB}};
    putIfAny(object, "U_dB", correction.U_dB);
    putIfAny(object, "includesCalibrator", correction.includesCalibrator);
    putIfAny(object, "calibrator", correction.calibrator);
    putIfAny(object, "frequency_Hz", correction.frequency);
    putIfAny(object, "origin", correction.origin);
    putIfAny(object, "date", correction.date);
    if (correction.chosenBy) { // no earphone at all is recorded too
        JsonList names;
        for (const auto& name : *correction.chosenBy)
            names.emplace_back(name);
        object.emplace_back("chosenBy", std::move(names));
    }
    return object;
}

std::optional<Correction> correctionFrom(Fields& owner)
{
    auto fields = owner.objectIfAny("correction");
    if (!fields)
        return std::nullopt;
    Correction correction;
    correction.value_dB = fields->number("value_dB");
    correction.U_dB = fields->numberIfAny("U_dB", zeroOrMore);
    correction.includesCalibrator = fields->yesIfAny("includesCalibrator");
    correction.calibrator = fields->textIfAny("calibrator");
    correction.frequency = fields->quantityIfAny<Hertz>("frequency_Hz", aboveZero);
    correction.origin = fields->textIfAny("origin");
    correction.date = fields->dateIfAny("date");
    if (fields->has("chosenBy"))
        correction.chosenBy = fields->textsIfAny("chosenBy");
    fields->refuseUnknown();
    return correction;
}

JsonObject fieldsOf(const Coupler& coupler)
{
    JsonObject object{{"allowedAge_h", coupler.allowedAge_h}};
    putIfAny(object, "couplerKind", coupler.kind);
    putIfAny(object, "serial", coupler.serial);
    putIfAny(object, "microphone", coupler.microphone);
    putIfAny(object, "input", coupler.input);
    putIfAny(object, "gainNote", coupler.gainNote);
    putIfAny(object, "response", listOf(coupler.response));
    putIfAny(object, "responseSource", coupler.responseSource);
    if (coupler.correction)
        object.emplace_back("correction", fieldsOf(*coupler.correction));
    if (!(coupler.judged == JudgedTerms{}))
        object.emplace_back("judged", fieldsOf(coupler.judged));
    putIfAny(object, "olderReferences", listOf(coupler.older));
    putIfAny(object, "references", listOf(coupler.references));
    if (coupler.slot != 0)
        object.emplace_back("slot", coupler.slot);
    putIfAny(object, "simulated", coupler.simulated);
    return object;
}

Coupler couplerFrom(Fields& fields)
{
    Coupler coupler;
    coupler.allowedAge_h = fields.number("allowedAge_h", aboveZero);
    coupler.kind = fields.textIfAny("couplerKind");
    coupler.serial = fields.textIfAny("serial");
    coupler.microphone = fields.textIfAny("microphone");
    coupler.input = fields.textIfAny("input");
    coupler.gainNote = fields.textIfAny("gainNote");
    coupler.response = responseFrom(fields);
    coupler.responseSource = fields.textIfAny("responseSource");
    coupler.correction = correctionFrom(fields);
    coupler.judged = judgedFrom(fields);
    coupler.older = olderFrom(fields);
    coupler.references = referencesFrom(fields);
    coupler.slot = fields.wholeIfAny("slot", 1, slots).value_or(0);
    coupler.simulated = fields.yesIfAny("simulated");
    return coupler;
}

} // namespace couplet
