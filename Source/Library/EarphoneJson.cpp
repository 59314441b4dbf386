// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/ItemJson.h"

namespace couplet {
namespace {

const std::vector<std::string_view> forms = {"per volt", "per milliwatt", "at voltage"}; // as Rating::Form orders them

JsonObject fieldsOf(const Rating& rating)
{
    JsonObject object{{"form", std::string(forms[static_cast<std::size_t>(rating.form)])},
                      {"level_dB", rating.level_dB}};
    putIfAny(object, "voltage_V", rating.voltage);
    putIfAny(object, "ratedSource_ohm", rating.ratedSource);
    putIfAny(object, "frequency_Hz", rating.frequency);
    putIfAny(object, "tolerance_dB", rating.tolerance_dB);
    putIfAny(object, "impedance_ohm", rating.impedance);
    putIfAny(object, "impedanceTolerance_percent", rating.impedanceTolerance);
    return object;
}

Rating ratingFrom(Fields& earphone)
{
    auto fields = earphone.objectNeeded("rating");
    Rating rating;
    rating.form = static_cast<Rating::Form>(fields.oneOf("form", forms));
    rating.level_dB = fields.number("level_dB", ratedLevels_dB);
    rating.voltage = fields.quantityIfAny<Volts>("voltage_V", aboveZero);
    rating.ratedSource = fields.quantityIfAny<Ohms>("ratedSource_ohm", zeroOrMore);
    rating.frequency = fields.quantityIfAny<Hertz>("frequency_Hz", aboveZero);
    rating.tolerance_dB = fields.numberIfAny("tolerance_dB", zeroOrMore);
    rating.impedance = fields.quantityIfAny<Ohms>("impedance_ohm", aboveZero);
    rating.impedanceTolerance =
        fields.quantityIfAny<Percent>("impedanceTolerance_percent", {0.0, largestImpedanceTolerance.value});
    const bool isAtVoltage = rating.form == Rating::Form::atVoltage;
    if (isAtVoltage && !rating.voltage)
        fields.refuse("voltage_V", "is missing, but a rating 'at voltage' needs it; add it as a number");
    if (!isAtVoltage && rating.voltage)
        fields.refuse("voltage_V", "is given, but only a rating 'at voltage' has one; take it out");
    fields.refuseUnknown();
    return rating;
}

} // namespace

JsonObject fieldsOf(const Earphone& earphone)
{
    JsonObject object{{"rating", fieldsOf(earphone.rating)}};
    putIfAny(object, "note", earphone.note);
    putIfAny(object, "keptAside", earphone.keptAside);
    putIfAny(object, "choseCorrectionOf", earphone.choseCorrectionOf);
    putIfAny(object, "simulated", earphone.simulated);
    return object;
}

Earphone earphoneFrom(Fields& fields)
{
    Earphone earphone;
    earphone.rating = ratingFrom(fields);
    earphone.note = fields.textIfAny("note");
    earphone.keptAside = fields.yesIfAny("keptAside");
    earphone.choseCorrectionOf = fields.textsIfAny("choseCorrectionOf");
    earphone.simulated = fields.yesIfAny("simulated");
    return earphone;
}

} // namespace couplet
