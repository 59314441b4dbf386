// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"
#include "Quantities/Units.h"

#include <optional>
#include <string>
#include <string_view>

// Purpose: a maker's sensitivity rating, kept as printed, and what it comes to as dB SPL for 1 V at the
//          earphone's terminals.
// Source:  IEC 60268-7:2010 8.3 and 8.4 (characteristic voltage, e.m.f. behind a rated source impedance;
//          second-hand); the conversions are Ohm's law with a resistive load.
// Thread:  any.
namespace couplet {

struct Rating
{
    enum class Form {
        perVolt,      // level_dB is dB SPL for 1 V
        perMilliwatt, // level_dB is dB SPL for 1 mW into `impedance`
        atVoltage     // level_dB is dB SPL at `voltage`; with 94 dB this is a characteristic voltage
    };
    Form form = Form::perVolt;
    double level_dB = 0.0;              // dB SPL, finite, within -20 to 200
    std::optional<Volts> voltage;       // atVoltage only, > 0
    std::optional<Ohms> ratedSource;    // given: the rated voltage is an e.m.f. behind this impedance (>= 0)
    std::optional<Hertz> frequency;     // absent: not stated
    std::optional<double> tolerance_dB; // half-width of a rectangular distribution, >= 0; absent: not stated
    std::optional<Ohms> impedance;      // > 0; absent: not stated

    bool operator==(const Rating&) const = default;
};

// S_V, dB SPL for 1 V at the terminals. A fault when the form needs an impedance that was not stated, or a
// figure is out of range.
Outcome<double> sensitivity_dBPerVolt(const Rating&);

// dB SPL for 1 mW into Z from dB SPL for 1 V: S_V - 30 + 10 lg Z.
double sensitivity_dBPerMilliwatt(double sensitivity_dBPerVolt, Ohms impedance);

// The RMS voltage at the terminals that makes `target_dBSPL` at the same frequency.
Volts terminalVoltageFor(double target_dBSPL, double sensitivity_dBPerVolt);

// 'loss' of a resistive load Z behind a source R: 20 lg(Z / (Z + R)), dB, <= 0.
double loadLoss_dB(Ohms impedance, Ohms source);

// Reads "118.7dB/V", "105dB/mW" or "102dB@250mV" (spaces allowed); the other fields stay absent.
Outcome<Rating> parseRating(std::string_view);

// As printed on a box: "118.7 dB/V", "105 dB/mW", "102 dB at 250 mV".
std::string ratingText(const Rating&);

// True when two frequencies are within 1/24 octave of each other (method of this product; no source).
bool sameRatingFrequency(Hertz, Hertz);

} // namespace couplet
