// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Offset.h"

#include "Metrology/Expanded.h"
#include "Metrology/Fitness.h"
#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr Kilopascals referencePressure{101.325}; // IEC 60942
constexpr Kilopascals lowestPressure{50.0};       // some 5600 m up
constexpr Kilopascals highestPressure{120.0};
constexpr double certificateCoverage = 2.0; // every U that is typed is 2 u

// Names by which a kept offset's parts are known again.
constexpr const char* takenAway = "taken by the coupler";
constexpr const char* calibratorTerm = "calibrator";
constexpr const char* laboratoryTerm = "calibrator, laboratory";
constexpr const char* correctionTerm = "correction";
constexpr const char* correctionTermWithCalibrator = "correction, with the calibrator";
constexpr const char* seatingTerm = "seating it again";

bool isUncertainty(double u)
{
    return std::isfinite(u) && u >= 0.0;
}

std::optional<Fault> pressureFault(const ReferenceInput& input)
{
    if (input.pressureLaw.kind == PressureLaw::Kind::none)
        return std::nullopt;
    if (!input.pressure && !input.pressureLaw.needsPressure())
        return std::nullopt;
    if (!std::isfinite(input.pressureLaw.dBPerKilopascal))
        return Fault{"the calibrator's pressure coefficient is not a number; copy it from the manual, in dB/kPa"};
    if (!input.pressure)
        return Fault{"the calibrator's level follows the static pressure, which is not stated; state it, for "
                     "example 98.6kPa"};
    if (!(*input.pressure >= lowestPressure && *input.pressure <= highestPressure))
        return Fault{fmt::format("the static pressure of {:.1f} kPa is outside 50 to 120 kPa; read the barometer "
                                 "itself, not a figure reduced to sea level",
                                 input.pressure->value)};
    return std::nullopt;
}

std::optional<Fault> correctionFault(const ReferenceInput& input)
{
    const auto& correction = *input.correction;
    if (!std::isfinite(correction.value_dB) || (correction.U_dB && !isUncertainty(*correction.U_dB)))
        return Fault{"the coupler's correction or its uncertainty is no usable figure; state both in dB, the "
                     "uncertainty not negative"};
    // Half an octave tells a calibrator's other tone from its own tone gone astray, which the fitness checks
    // name.
    constexpr double anotherTone_octaves = 0.5; // no source
    if (correction.frequency && !(std::abs(std::log2(input.frequency / *correction.frequency)) <= anotherTone_octaves))
        return Fault{fmt::format("the coupler's correction was found at {} and the tone is at {}; find one for this "
                                 "frequency or play the other tone",
                                 nominalFrequencyText(*correction.frequency), nominalFrequencyText(input.frequency))};
    return std::nullopt;
}

std::optional<Fault> faultOf(const ReferenceInput& input)
{
    if (!(input.certifiedLevel_dB >= 0.0 && input.certifiedLevel_dB <= 200.0))
        return Fault{fmt::format("the calibrator's level of {} dB is outside 0 to 200 dB; copy it from the certificate",
                                 input.certifiedLevel_dB)};
    if (input.certificateU_dB && !isUncertainty(*input.certificateU_dB))
        return Fault{"the certificate's uncertainty must not be negative; copy it from the certificate"};
    if (!std::isfinite(input.tone_dBFS) || !isUncertainty(input.toneU_dB) || !(input.frequency.value > 0.0))
        return Fault{"the calibrator's tone has no level at the input; seat it, switch it on and take it again"};
    if (auto fault = pressureFault(input))
        return fault;
    for (const auto& judged : {input.judged.seating_dB, input.judged.drift_dB, input.judged.linearity_dB,
                               input.judged.barometer ? std::optional(input.judged.barometer->value) : std::nullopt})
        if (judged && !isUncertainty(*judged))
            return Fault{"a judged uncertainty must not be negative; write its size"};
    return input.correction ? correctionFault(input) : std::nullopt;
}

std::string pressureName(const ReferenceInput& input)
{
    if (input.pressureLaw.kind == PressureLaw::Kind::none)
        return "static pressure: regulates itself";
    if (input.pressureLaw.kind == PressureLaw::Kind::notStated)
        return "static pressure: law not stated";
    return fmt::format("static pressure, {:.1f} kPa", input.pressure->value);
}

// Slope of the pressure correction at this pressure, dB/kPa.
double pressureSlope(const PressureLaw& law, Kilopascals pressure)
{
    return law.kind == PressureLaw::Kind::coefficient ? std::abs(law.dBPerKilopascal) : dBPerRelative / pressure.value;
}

// The calibrator's own term: its certificate, else its class, else nothing to go by.
void addCalibrator(Figure& offset, const ReferenceInput& input)
{
    if (input.certificateU_dB) {
        offset.budget.push_back(
            fromCertificate(calibratorTerm, *input.certificateU_dB, certificateCoverage, "certificate"));
        return;
    }
    if (!input.calibratorClass) {
        offset.missing.push_back("the calibrator has neither a certificate's uncertainty nor a class");
        return;
    }
    // The limits of the 2017 edition hold for the deviation that a laboratory finds; its own uncertainty comes on top.
    const auto limits = calibratorLimits(input.calibratorClass, input.frequency);
    if (limits) {
        offset.budget.push_back(
            fromLimits(calibratorTerm, limits->level_dB, fmt::format("limit of class {}", *input.calibratorClass)));
        offset.budget.push_back(fromCertificate(laboratoryTerm, limits->levelU_dB, certificateCoverage,
                                                fmt::format("largest U of class {}", *input.calibratorClass)));
    }
    else
        offset.missing.push_back(fmt::format("class {} has no level limit at {}, and the calibrator's certificate "
                                             "is not stated",
                                             *input.calibratorClass, nominalFrequencyText(input.frequency)));
}

void addCorrection(Figure& offset, const Correction& correction)
{
    if (!correction.U_dB) {
        offset.missing.push_back("the uncertainty of the coupler's correction is not stated");
        return;
    }
    offset.budget.push_back(
        fromCertificate(correction.includesCalibrator ? correctionTermWithCalibrator : correctionTerm, *correction.U_dB,
                        certificateCoverage, correction.origin.empty() ? std::string("stated") : correction.origin));
}

// A law that is not stated may be any, a piston's the steepest of them: at the reference pressure, within what the
// barometer tells (twice its u), none of them matters.
void addPressure(Figure& offset, const ReferenceInput& input)
{
    constexpr double coverage = 2.0;
    const bool notStated = input.pressureLaw.kind == PressureLaw::Kind::notStated;
    const Kilopascals barometer = input.judged.barometer.value_or(assumedBarometer);
    const double away = std::abs((*input.pressure - referencePressure).value);
    if (notStated && away > coverage * std::max(barometer, assumedBarometer).value) {
        offset.missing.push_back(
            fmt::format("how the calibrator's level follows the static pressure is not stated, and at {:.1f} kPa a "
                        "piston source is off by {:.2f} dB: state its law",
                        input.pressure->value, std::abs(decibels(*input.pressure / referencePressure))));
        return;
    }
    const double slope = pressureSlope(input.pressureLaw, *input.pressure);
    std::optional<double> given_dB;
    if (input.judged.barometer)
        given_dB = input.judged.barometer->value * slope;
    offset.budget.push_back(judgedTerm("static pressure", given_dB, assumedBarometer.value * slope));
}

void addBudget(Figure& offset, const ReferenceInput& input)
{
    if (input.correction)
        addCorrection(offset, *input.correction);
    if (!input.correction || !input.correction->includesCalibrator)
        addCalibrator(offset, input);
    if (input.pressureLaw.kind != PressureLaw::Kind::none && input.pressure)
        addPressure(offset, input);
    offset.budget.push_back(
        input.seating.value_or(judgedTerm(seatingTerm, input.judged.seating_dB, assumedSeating_dB)));
    offset.budget.push_back(judgedTerm("drift since", input.judged.drift_dB, assumedDrift_dB));
    offset.budget.push_back(
        input.linearity.value_or(judgedTerm("linearity", input.judged.linearity_dB, assumedLinearity_dB)));
    offset.budget.push_back({"reading", input.toneU_dB, infiniteDegrees, Shape::normal, "scatter of the tone"});
}

} // namespace

double pressureCorrection_dB(PressureLaw law, Kilopascals pressure)
{
    switch (law.kind) {
    case PressureLaw::Kind::piston:
        return decibels(pressure / referencePressure);
    case PressureLaw::Kind::coefficient:
        return law.dBPerKilopascal * (pressure - referencePressure).value;
    case PressureLaw::Kind::none:
    case PressureLaw::Kind::notStated:
        break;
    }
    return 0.0;
}

Outcome<Figure> offsetFrom(const ReferenceInput& input)
{
    if (const auto fault = faultOf(input))
        return *fault;
    Figure offset;
    offset.addends.push_back({"certified level, " + nominalFrequencyText(input.frequency), input.certifiedLevel_dB});
    offset.addends.push_back(
        {pressureName(input), pressureCorrection_dB(input.pressureLaw, input.pressure.value_or(referencePressure))});
    if (input.correction)
        offset.addends.push_back({takenAway, -input.correction->value_dB});
    offset.addends.push_back({"full scale above the tone at the input", -input.tone_dBFS});
    for (const auto& addend : offset.addends)
        offset.level_dB += addend.value_dB;
    addBudget(offset, input);
    return offset;
}

double takenByCoupler_dB(const std::vector<Addend>& addends)
{
    double taken_dB = 0.0;
    for (const auto& addend : addends)
        if (addend.name == takenAway)
            taken_dB -= addend.value_dB;
    return taken_dB;
}

OffsetBare withoutCorrection(const std::vector<Addend>& addends, const Budget& budget, double offset_dB)
{
    OffsetBare bare;
    bare.offset.level_dB = offset_dB + takenByCoupler_dB(addends);
    for (const auto& term : budget) {
        if (term.name == seatingTerm)
            bare.u_seating_dB = term.u_dB;
        else if (term.name != calibratorTerm && term.name != laboratoryTerm && term.name != correctionTerm &&
                 term.name != correctionTermWithCalibrator)
            bare.offset.budget.push_back(term);
    }
    bare.offset.addends = {{"offset as if the coupler took nothing away", bare.offset.level_dB}};
    return bare;
}

} // namespace couplet
