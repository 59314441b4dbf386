// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Rating.h"

#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <cmath>

namespace couplet {
namespace {

constexpr double milliwattsPerWatt_dB = 30.0;

bool isAboveZero(double value)
{
    return std::isfinite(value) && value > 0.0;
}

bool isZeroOrMore(double value)
{
    return std::isfinite(value) && value >= 0.0;
}

// What is wrong with the rating's figures, or nothing.
std::optional<Fault> faultOf(const Rating& rating)
{
    if (!(rating.level_dB >= -20.0 && rating.level_dB <= 200.0))
        return Fault{
            fmt::format("the rating's level of {} dB is outside -20 to 200 dB; copy it as printed", rating.level_dB)};
    if (rating.form == Rating::Form::atVoltage && !rating.voltage)
        return Fault{"the rating is at a voltage that is not stated; write it as 102dB@250mV"};
    if (rating.voltage && !isAboveZero(rating.voltage->value))
        return Fault{"the rating's voltage must be above zero; copy it as printed"};
    if (rating.impedance && !isAboveZero(rating.impedance->value))
        return Fault{"the rating's impedance must be above zero; copy it as printed"};
    if (rating.ratedSource && !isZeroOrMore(rating.ratedSource->value))
        return Fault{"the rated source impedance must not be negative; copy it as printed"};
    if (rating.frequency && !isAboveZero(rating.frequency->value))
        return Fault{"the rating's frequency must be above zero; copy it as printed"};
    if (rating.tolerance_dB && !isZeroOrMore(*rating.tolerance_dB))
        return Fault{"the rating's tolerance must not be negative; write a half-width such as 1dB"};
    if (rating.impedanceTolerance && !(rating.impedanceTolerance->value >= 0.0 &&
                                       rating.impedanceTolerance->value <= largestImpedanceTolerance.value))
        return Fault{
            fmt::format("the impedance's tolerance of {} % is outside 0 to {} %; write a half-width such as 20%",
                        rating.impedanceTolerance->value, largestImpedanceTolerance.value)};
    return std::nullopt;
}

Fault impedanceNeeded(const char* why)
{
    return {fmt::format("the rating {}, and the earphone's impedance is not stated; state it, for example 24ohm", why)};
}

// Level at the terminals' 1 V for a level at a voltage that stands behind the rated source, if any.
Outcome<double> fromVoltage(const Rating& rating, Volts voltage)
{
    const double ifAtTerminals = rating.level_dB - decibels(voltage.value);
    if (!rating.ratedSource || rating.ratedSource->value == 0.0)
        return ifAtTerminals;
    if (!rating.impedance)
        return impedanceNeeded("is behind a source impedance");
    return ifAtTerminals - loadLoss_dB(*rating.impedance, *rating.ratedSource);
}

// The unit after the stroke of "118.7dB/V".
Outcome<Rating::Form> formFrom(std::string_view per)
{
    if (per == "V")
        return Rating::Form::perVolt;
    if (per == "mW")
        return Rating::Form::perMilliwatt;
    return Fault{
        fmt::format("the rating is per {}; write it per V or per mW, as in 118.7dB/V or 105dB/mW", quoted(per))};
}

struct Halves
{
    std::string_view left, right;
};

std::optional<Halves> splitAt(std::string_view text, std::string_view mark)
{
    const auto place = text.find(mark);
    if (place == std::string_view::npos)
        return std::nullopt;
    return Halves{trimmed(text.substr(0, place)), trimmed(text.substr(place + mark.size()))};
}

Outcome<Rating> checkedRating(Rating::Form form, double level_dB, std::optional<Volts> voltage)
{
    Rating rating;
    rating.form = form;
    rating.level_dB = level_dB;
    rating.voltage = voltage;
    if (const auto fault = faultOf(rating))
        return *fault;
    return rating;
}

Outcome<Rating> ratingAtVoltage(const Halves& halves)
{
    const auto level = parseDecibels(halves.left);
    if (!level)
        return level.fault();
    const auto voltage = parseVolts(halves.right);
    if (!voltage)
        return voltage.fault();
    return checkedRating(Rating::Form::atVoltage, *level, *voltage);
}

Outcome<Rating> ratingPerUnit(const Halves& halves)
{
    const auto form = formFrom(halves.right);
    if (!form)
        return form.fault();
    const auto level = parseDecibels(halves.left);
    if (!level)
        return level.fault();
    return checkedRating(*form, *level, std::nullopt);
}

} // namespace

Outcome<double> sensitivity_dBPerVolt(const Rating& rating)
{
    if (const auto fault = faultOf(rating))
        return *fault;
    switch (rating.form) {
    case Rating::Form::perVolt:
        return fromVoltage(rating, Volts(1.0));
    case Rating::Form::atVoltage:
        return fromVoltage(rating, *rating.voltage);
    case Rating::Form::perMilliwatt:
        break;
    }
    // The e.m.f. that brings 1 mW into the rated impedance leaves sqrt(1 mW Z) across it, whatever the rated source is.
    if (!rating.impedance)
        return impedanceNeeded("is per milliwatt");
    return rating.level_dB + milliwattsPerWatt_dB - decibelsOfPower(rating.impedance->value);
}

double sensitivity_dBPerMilliwatt(double perVolt_dB, Ohms impedance)
{
    return perVolt_dB - milliwattsPerWatt_dB + decibelsOfPower(impedance.value);
}

Volts terminalVoltageFor(double target_dBSPL, double perVolt_dB)
{
    return Volts(ratioFrom_dB(target_dBSPL - perVolt_dB));
}

double loadLoss_dB(Ohms impedance, Ohms source)
{
    return decibels(impedance / (impedance + source));
}

Outcome<Rating> parseRating(std::string_view text)
{
    // "at" is tried too, so that what ratingText prints can be typed back.
    for (const std::string_view mark : {"@", " at "})
        if (const auto halves = splitAt(text, mark))
            return ratingAtVoltage(*halves);
    if (const auto halves = splitAt(text, "/"))
        return ratingPerUnit(*halves);
    return Fault{
        fmt::format("{} is not a rating; write it as 118.7dB/V, 105dB/mW or 102dB@250mV", quoted(trimmed(text)))};
}

std::string ratingText(const Rating& rating)
{
    switch (rating.form) {
    case Rating::Form::perVolt:
        return fmt::format("{} dB/V", rating.level_dB);
    case Rating::Form::perMilliwatt:
        return fmt::format("{} dB/mW", rating.level_dB);
    case Rating::Form::atVoltage:
        break;
    }
    if (!rating.voltage)
        return fmt::format("{} dB at a voltage not stated", rating.level_dB);
    const double volts = rating.voltage->value;
    return volts < 1.0 ? fmt::format("{} dB at {:.6g} mV", rating.level_dB, 1000.0 * volts)
                       : fmt::format("{} dB at {:.6g} V", rating.level_dB, volts);
}

bool sameRatingFrequency(Hertz a, Hertz b)
{
    constexpr double octaves = 1.0 / 24.0;
    constexpr double roundOff = 1e-12;
    return std::abs(std::log2(a / b)) <= octaves + roundOff;
}

} // namespace couplet
