// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/ItemJson.h"

namespace couplet {
namespace {

constexpr Range oneOrMore{1.0};
constexpr int mostChannels = 65535;                                     // a WAV header counts them in 16 bits
const std::vector<std::string_view> shapes = {"normal", "rectangular"}; // as Shape orders them

JsonList listOf(const std::vector<Addend>& addends)
{
    JsonList list;
    for (const auto& addend : addends)
        list.push_back(JsonObject{{"name", addend.name}, {"value_dB", addend.value_dB}});
    return list;
}

std::vector<Addend> addendsFrom(Fields& reference)
{
    std::vector<Addend> addends;
    for (auto& fields : reference.objectsIfAny("addends")) {
        addends.push_back({fields.text("name"), fields.number("value_dB")});
        fields.refuseUnknown();
    }
    return addends;
}

// Infinite degrees of freedom, which JSON cannot write, are an absent field; NaN or minus infinity are not,
// and reach the text as a null that reading refuses.
JsonList listOf(const Budget& budget)
{
    JsonList list;
    for (const auto& term : budget) {
        JsonObject object{{"name", term.name}, {"u_dB", term.u_dB}};
        if (term.degreesOfFreedom != infiniteDegrees)
            object.emplace_back("degreesOfFreedom", term.degreesOfFreedom);
        object.emplace_back("shape", std::string(shapes[static_cast<std::size_t>(term.shape)]));
        object.emplace_back("obtained", term.obtained);
        list.emplace_back(std::move(object));
    }
    return list;
}

Budget budgetFrom(Fields& reference)
{
    Budget budget;
    for (auto& fields : reference.objectsIfAny("budget")) {
        BudgetTerm term;
        term.name = fields.text("name");
        term.u_dB = fields.number("u_dB", zeroOrMore);
        term.degreesOfFreedom = fields.numberIfAny("degreesOfFreedom", oneOrMore).value_or(infiniteDegrees);
        term.shape = static_cast<Shape>(fields.oneOf("shape", shapes));
        term.obtained = fields.text("obtained");
        fields.refuseUnknown();
        budget.push_back(std::move(term));
    }
    return budget;
}

JsonObject fieldsOf(const Reference& reference)
{
    JsonObject object{{"takenAt", reference.takenAt},
                      {"offset_dB", reference.offset_dB},
                      {"tone_dBFS", reference.tone_dBFS},
                      {"frequency_Hz", reference.frequency.value},
                      {"sampleRate_Hz", reference.sampleRate_Hz},
                      {"channel", reference.channel},
                      {"fitToUse", reference.fitToUse}};
    putIfAny(object, "addends", listOf(reference.addends));
    putIfAny(object, "budget", listOf(reference.budget));
    putIfAny(object, "missing", reference.missing);
    putIfAny(object, "calibrator", reference.calibrator);
    putIfAny(object, "calibratorClass", reference.calibratorClass);
    putIfAny(object, "pressure_kPa", reference.pressure);
    putIfAny(object, "setAside", reference.setAside);
    putIfAny(object, "source", reference.source);
    if (reference.correction)
        object.emplace_back("correction", fieldsOf(*reference.correction));
    putIfAny(object, "moved_dB", reference.moved_dB);
    return object;
}

Reference referenceFrom(Fields& fields)
{
    Reference reference;
    reference.takenAt = fields.time("takenAt");
    reference.offset_dB = fields.number("offset_dB");
    reference.tone_dBFS = fields.number("tone_dBFS");
    reference.frequency = fields.quantity<Hertz>("frequency_Hz", aboveZero);
    reference.sampleRate_Hz = fields.number("sampleRate_Hz", zeroOrMore);
    reference.channel = fields.whole("channel", 1, mostChannels);
    reference.fitToUse = fields.yesOrNo("fitToUse");
    reference.addends = addendsFrom(fields);
    reference.budget = budgetFrom(fields);
    reference.missing = fields.textsIfAny("missing");
    reference.calibrator = fields.textIfAny("calibrator");
    reference.calibratorClass = fields.wholeIfAny("calibratorClass", 1, 2);
    reference.pressure = fields.quantityIfAny<Kilopascals>("pressure_kPa", pressures_kPa);
    reference.setAside = fields.textIfAny("setAside");
    reference.source = fields.textIfAny("source");
    reference.correction = correctionFrom(fields);
    reference.moved_dB = fields.numberIfAny("moved_dB");
    return reference;
}

} // namespace

JsonList listOf(const std::vector<Reference>& references)
{
    JsonList list;
    for (const auto& reference : references)
        list.emplace_back(fieldsOf(reference));
    return list;
}

std::vector<Reference> referencesFrom(Fields& coupler)
{
    std::vector<Reference> references;
    for (auto& fields : coupler.objectsIfAny("references")) {
        references.push_back(referenceFrom(fields));
        fields.refuseUnknown();
    }
    return references;
}

} // namespace couplet
