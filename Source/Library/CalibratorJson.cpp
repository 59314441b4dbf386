// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/ItemJson.h"

namespace couplet {
namespace {

// As PressureLaw::Kind orders them after `notStated`, which is no field at all.
const std::vector<std::string_view> laws = {"none", "piston", "coefficient"};

JsonObject fieldsOf(PressureLaw law)
{
    JsonObject object{{"law", std::string(laws[static_cast<std::size_t>(law.kind) - 1])}};
    if (law.kind == PressureLaw::Kind::coefficient)
        object.emplace_back("coefficient_dBPerkPa", law.dBPerKilopascal);
    return object;
}

PressureLaw pressureLawFrom(Fields& calibrator)
{
    PressureLaw law;
    auto fields = calibrator.objectIfAny("pressureLaw");
    if (!fields)
        return law;
    law.kind = static_cast<PressureLaw::Kind>(fields->oneOf("law", laws) + 1);
    if (law.kind == PressureLaw::Kind::coefficient)
        law.dBPerKilopascal = fields->number("coefficient_dBPerkPa");
    fields->refuseUnknown();
    return law;
}

JsonList listOf(const std::vector<CertifiedTone>& tones)
{
    JsonList list;
    for (const auto& tone : tones) {
        JsonObject object{{"frequency_Hz", tone.frequency.value}, {"level_dB", tone.level_dB}};
        putIfAny(object, "U_dB", tone.U_dB);
        list.emplace_back(std::move(object));
    }
    return list;
}

std::vector<CertifiedTone> tonesFrom(Fields& calibrator)
{
    std::vector<CertifiedTone> tones;
    for (auto& fields : calibrator.objectsIfAny("tones")) {
        CertifiedTone tone;
        tone.frequency = fields.quantity<Hertz>("frequency_Hz", aboveZero);
        tone.level_dB = fields.number("level_dB", ratedLevels_dB);
        tone.U_dB = fields.numberIfAny("U_dB", zeroOrMore);
        fields.refuseUnknown();
        tones.push_back(tone);
    }
    if (tones.empty())
        calibrator.refuse("tones", "is empty or missing; add at least one tone with its frequency_Hz and level_dB");
    return tones;
}

} // namespace

JsonObject fieldsOf(const Calibrator& calibrator)
{
    JsonObject object;
    if (calibrator.pressureLaw.kind != PressureLaw::Kind::notStated)
        object.emplace_back("pressureLaw", fieldsOf(calibrator.pressureLaw));
    object.emplace_back("tones", listOf(calibrator.tones));
    putIfAny(object, "serial", calibrator.serial);
    putIfAny(object, "certificate", calibrator.certificate);
    putIfAny(object, "class", calibrator.calibratorClass);
    putIfAny(object, "due", calibrator.due);
    putIfAny(object, "simulated", calibrator.simulated);
    return object;
}

Calibrator calibratorFrom(Fields& fields)
{
    Calibrator calibrator;
    calibrator.pressureLaw = pressureLawFrom(fields);
    calibrator.tones = tonesFrom(fields);
    calibrator.serial = fields.textIfAny("serial");
    calibrator.certificate = fields.textIfAny("certificate");
    calibrator.calibratorClass = fields.wholeIfAny("class", 1, 2);
    calibrator.due = fields.dateIfAny("due");
    calibrator.simulated = fields.yesIfAny("simulated");
    return calibrator;
}

} // namespace couplet
