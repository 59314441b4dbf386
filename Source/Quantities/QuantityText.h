// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"
#include "Quantities/Units.h"

#include <string>
#include <string_view>

// Purpose: quantities from text and into text.
// Units:   read with or without a space before the unit, prefixes and case as in SI ("62.4mV", "0.0624 V",
//          "24 Ω", "1.2kohm"). A decimal point only, whatever the locale; a real minus sign counts as one.
// Errors:  a fault is a fragment without its place, such as "'500' has no unit; write it with Hz or kHz,
//          for example 500Hz": the caller puts the option or the field in front of it.
// Thread:  any but audio (allocates).
namespace couplet {

Outcome<Volts> parseVolts(std::string_view);             // above 0
Outcome<Ohms> parseOhms(std::string_view);               // above 0
Outcome<Ohms> parseSourceOhms(std::string_view);         // 0 or more: an ideal source has none
Outcome<Hertz> parseHertz(std::string_view);             // above 0
Outcome<double> parseDecibels(std::string_view);         // -1000 to 1000
Outcome<Kilopascals> parseKilopascals(std::string_view); // above 0; also hPa, mbar, Pa
Outcome<Percent> parsePercent(std::string_view);         // 0 to 100
Outcome<Percent> parseTolerance(std::string_view);       // likewise, of an impedance

// What is written for a negative number: U+2212 for readers, the hyphen for whatever reads it back.
enum class Minus { sign, hyphen };

// Two decimals, half away from zero, never "-0.00": "93.97", "−28.05". The signed text puts a plus before
// what is above zero.
std::string levelText(double level_dB, Minus = Minus::sign);
std::string signedLevelText(double level_dB, Minus = Minus::sign);
// Likewise with other decimals, 0 to 6: "−0.0031".
std::string decimalText(double value, int decimals, Minus = Minus::sign);
std::string signedText(double value, int decimals, Minus = Minus::sign);

// Upward at 0.01 dB: "±0.53".
std::string uncertaintyText(double U_dB);

std::string voltageText(Volts);          // "123.2 mV", "2.00 V", "62.4 µV"
std::string impedanceText(Ohms);         // "24 Ω", "1.2 kΩ"
std::string frequencyText(Hertz);        // as measured: "500.01 Hz"
std::string nominalFrequencyText(Hertz); // three figures: "1 kHz", "500 Hz", "31.5 Hz"

// The rules behind these texts. A half that binary cannot hold still counts as a half; upward rounding
// forgives a twentieth of the last digit (JCGM 100:2008 7.2.6), and never makes something nothing.
double roundedHalfAway(double value, int decimals);
double roundedUpward(double value, int decimals);

// A piece of someone's text as it may stand in a one-line sentence: in quotes, shortened, without control
// characters.
std::string quoted(std::string_view);

// Without the white space around it (the no-break and narrow spaces of typesetting too).
std::string_view trimmed(std::string_view);

} // namespace couplet
