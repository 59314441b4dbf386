// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"
#include "Quantities/Units.h"

#include <optional>
#include <string>
#include <string_view>

// Purpose: a maker's sensitivity rating, kept as printed, and what it comes to as dB SPL for 1 V at the
//          earphone's terminals.
// Source:  IEC 60268-7:2010 8.3 to 8.5 (characteristic voltage, e.m.f. behind a rated source impedance, working level at
//          1 mW; second-hand); the conversions are Ohm's law with a resistive load.
// Choice:  a level for 1 mW is defined through the rated source (8.5.2): the level at the e.m.f. that would bring 1 mW
//          into the rated impedance as a resistance. At exactly that impedance the earphone then has sqrt(1 mW Z) across
//          it, whatever the source, so S_V is the same. Where its true impedance is another, the source decides how far
//          S_V moves (Sound.h, impedanceU_dB): for 24 ohm that are truly 20 % less, 1.64 dB behind 120 ohm
//          (IEC 61938), nothing for a voltage at the connector (8.5.3 c; state a rated source of 0 ohm), 0.97 dB where a
//          true milliwatt was meant. With no rated source stated the last two readings count, and 120 ohm is not
//          guessed.
// Thread:  any.
namespace couplet {

struct Rating
{
    enum class Form {
        perVolt,      // level_dB is dB SPL for 1 V
        perMilliwatt, // level_dB is dB SPL for 1 mW into `impedance`; see Choice above
        atVoltage     // level_dB is dB SPL at `voltage`; with 94 dB this is a characteristic voltage
    };
    Form form = Form::perVolt;
    double level_dB = 0.0;        // dB SPL, finite, within -20 to 200
    std::optional<Volts> voltage; // atVoltage only, > 0
    // Given: the rated voltage, or the one for 1 mW, is an e.m.f. behind this impedance (>= 0).
    std::optional<Ohms> ratedSource;
    std::optional<Hertz> frequency;     // absent: not stated
    std::optional<double> tolerance_dB; // half-width of a rectangular distribution, >= 0; absent: not stated
    std::optional<Ohms> impedance;      // > 0; absent: not stated
    // Half-width of what the impedance at the tone may be off its rated value, 0 to 90 %; absent: 20 %, assumed.
    std::optional<Percent> impedanceTolerance;

    bool operator==(const Rating&) const = default;
};

// IEC 60268-7:2010 8.2.1 b lets the lowest modulus be 80 % of the rated value (second-hand). As far above: method of this
// product, no source.
inline constexpr Percent assumedImpedanceTolerance{20.0};
inline constexpr Percent largestImpedanceTolerance{90.0};

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
