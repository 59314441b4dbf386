// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Sound.h"

#include "Metrology/Expanded.h"
#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

void sumAddends(Figure& figure)
{
    figure.level_dB = 0.0;
    for (const auto& addend : figure.addends)
        figure.level_dB += addend.value_dB;
}

std::optional<Fault> driveFault(const Drive& drive)
{
    if (!std::isfinite(drive.voltage.value) || drive.voltage <= Volts(0.0))
        return Fault{"the drive voltage must be above zero; state the earphone's voltage in V RMS, for "
                     "example 123.2mV"};
    if (drive.source && (!std::isfinite(drive.source->value) || *drive.source < Ohms(0.0)))
        return Fault{"the source impedance must not be negative; state it, for example 1ohm"};
    if (drive.meterAccuracy && (!std::isfinite(drive.meterAccuracy->value) || *drive.meterAccuracy < Percent(0.0)))
        return Fault{"the voltmeter's accuracy must not be negative; state it, for example 0.5%"};
    return std::nullopt;
}

std::optional<Fault> frequencyFault(const Rating& rating, Hertz tone)
{
    if (!rating.frequency || sameRatingFrequency(*rating.frequency, tone))
        return std::nullopt;
    const auto rated = nominalFrequencyText(*rating.frequency);
    return Fault{fmt::format("the tone is at {} and the rating holds at {} only; play {} or use a rating for the "
                             "tone's frequency",
                             frequencyText(tone), rated, rated)};
}

std::string driveName(const Drive& drive)
{
    return fmt::format("drive {} {}{}, in dBV", voltageText(drive.voltage), drive.sensed ? "sensed, " : "",
                       drive.source ? "open circuit" : "across the earphone");
}

std::string ratedName(const Rating& rating)
{
    if (!rating.frequency)
        return "rated, dB SPL for 1 V, frequency not stated";
    return "rated, dB SPL for 1 V at " + nominalFrequencyText(*rating.frequency);
}

bool hasSource(const std::optional<Ohms>& source)
{
    return source && *source > Ohms(0.0);
}

void addLoad(Figure& expected, const Rating& rating, const Drive& drive)
{
    if (!hasSource(drive.source))
        return;
    if (!rating.impedance) {
        expected.missing.push_back("the earphone's impedance is not stated, so that what the source's own "
                                   "impedance takes away is left out");
        return;
    }
    expected.addends.push_back(
        {fmt::format("source {} into {}", impedanceText(*drive.source), impedanceText(*rating.impedance)),
         loadLoss_dB(*rating.impedance, *drive.source)});
}

// The phase of Z moves the loss behind our source and the loss behind the rated source together: where both
// are the same, nothing of it is left in the sum.
void addPhaseOfLoad(Figure& expected, const Rating& rating, const Drive& drive)
{
    if (!rating.impedance)
        return;
    const auto span_dB = [&rating](const std::optional<Ohms>& source) {
        return hasSource(source) ? loadPhaseSpan_dB(*rating.impedance, *source) : 0.0;
    };
    const double net_dB = std::abs(span_dB(drive.source) - span_dB(rating.ratedSource));
    // Span / sqrt 3 is the root mean square about the resistive end of a level that may lie anywhere along the span:
    // not a rectangle about its middle, so it joins the normal-like terms.
    if (net_dB > 0.0)
        expected.budget.push_back({"phase of the load", net_dB / std::sqrt(3.0), infiniteDegrees, Shape::normal,
                                   "0 to 60 degrees, not measured"});
}

void addImpedance(Figure& expected, const Rating& rating, const Drive& drive)
{
    const double u_dB = impedanceU_dB(rating, drive.source);
    if (!(u_dB > 0.0))
        return;
    const Percent tolerance = rating.impedanceTolerance.value_or(assumedImpedanceTolerance);
    expected.budget.push_back({"impedance of the earphone", u_dB, infiniteDegrees, Shape::rectangular,
                               fmt::format("{}, {} \u00b1{:.3g} %", rating.impedanceTolerance ? "stated" : "assumed",
                                           impedanceText(*rating.impedance), tolerance.value)});
}

void addTolerance(Figure& expected, const Rating& rating)
{
    if (!rating.frequency)
        expected.missing.push_back("the rating's frequency is not stated");
    if (rating.tolerance_dB)
        expected.budget.push_back(fromLimits("tolerance of the rating", *rating.tolerance_dB, "maker's tolerance"));
    else
        expected.missing.push_back("the rating's tolerance is not stated");
}

void addMeter(Figure& expected, const Drive& drive)
{
    if (drive.meterAccuracy)
        expected.budget.push_back(fromLimits("drive voltage", decibels(1.0 + drive.meterAccuracy->value / 100.0),
                                             fmt::format("voltmeter's {:.3g} %", drive.meterAccuracy->value)));
    else
        expected.missing.push_back(drive.sensed ? "the accuracy of the drive input's full scale is not stated"
                                                : "the voltmeter's accuracy is not stated");
}

} // namespace

Figure measuredLevel(const MeasuredInput& input)
{
    Figure measured;
    measured.addends.push_back({"tone at the input, " + frequencyText(input.frequency), input.tone_dBFS});
    measured.addends.push_back({"offset of this coupler", input.offset.level_dB});
    if (input.response_dB)
        measured.addends.push_back({"microphone response taken out", *input.response_dB});
    sumAddends(measured);

    measured.budget = input.offset.budget;
    measured.missing = input.offset.missing;
    const auto add = [&measured](BudgetTerm term) { measured.budget.push_back(std::move(term)); };
    add({"microphone response", input.responseU_dB, infiniteDegrees, Shape::normal,
         input.response_dB ? "response table" : input.responseObtained});
    if (input.insertion)
        add({"inserting it again", input.insertionU_dB, input.insertionDegrees, Shape::normal,
             input.insertionObtained});
    if (input.steadinessU_dB > 0.0)
        add({"steadiness of the tone", input.steadinessU_dB, infiniteDegrees, Shape::normal, "scatter of the tone"});
    if (input.humBoundU_dB > 0.0)
        add({"hum on the tone", input.humBoundU_dB, infiniteDegrees, Shape::normal, "neighbouring mains orders"});
    return measured;
}

Outcome<Figure> expectedLevel(const Rating& rating, const Drive& drive, Hertz toneFrequency)
{
    if (const auto fault = driveFault(drive))
        return *fault;
    const auto sensitivity = sensitivity_dBPerVolt(rating);
    if (!sensitivity)
        return sensitivity.fault();
    if (const auto fault = frequencyFault(rating, toneFrequency))
        return *fault;

    Figure expected;
    expected.addends.push_back({driveName(drive), decibels(drive.voltage.value)});
    expected.addends.push_back({ratedName(rating), *sensitivity});
    addLoad(expected, rating, drive);
    sumAddends(expected);
    addTolerance(expected, rating);
    addMeter(expected, drive);
    addImpedance(expected, rating, drive);
    addPhaseOfLoad(expected, rating, drive);
    return expected;
}

double impedanceU_dB(const Rating& rating, const std::optional<Ohms>& driveSource)
{
    if (!rating.impedance)
        return 0.0;
    const double tolerance = rating.impedanceTolerance.value_or(assumedImpedanceTolerance).value / 100.0;
    const bool mayBeTrueMilliwatt = rating.form == Rating::Form::perMilliwatt && !rating.ratedSource;
    const auto lossMoves_dB = [&rating](const std::optional<Ohms>& source, double ratio) {
        const Ohms behind = source.value_or(Ohms(0.0));
        return loadLoss_dB(ratio * *rating.impedance, behind) - loadLoss_dB(*rating.impedance, behind);
    };
    // The middles of equal parts of the range: enough for four digits.
    constexpr int parts = 64;
    double atTerminals = 0.0, trueMilliwatt = 0.0;
    for (int i = 0; i < parts; ++i) {
        const double ratio = 1.0 + tolerance * ((2.0 * i + 1.0) / parts - 1.0);
        const double shift_dB = lossMoves_dB(driveSource, ratio) - lossMoves_dB(rating.ratedSource, ratio);
        atTerminals += shift_dB * shift_dB / parts;
        const double ofMilliwatt_dB = shift_dB - decibelsOfPower(ratio);
        trueMilliwatt += ofMilliwatt_dB * ofMilliwatt_dB / parts;
    }
    return std::sqrt(mayBeTrueMilliwatt ? std::max(atTerminals, trueMilliwatt) : atTerminals);
}

double loadPhaseSpan_dB(Ohms impedance, Ohms source)
{
    constexpr double cosineOf60Degrees = 0.5;
    const double Z = impedance.value, R = source.value;
    const double sumAt60Degrees = std::sqrt(Z * Z + 2.0 * Z * R * cosineOf60Degrees + R * R); // |Z + R|
    return decibels((Z + R) / sumAt60Degrees);
}

} // namespace couplet
