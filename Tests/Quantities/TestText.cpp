// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/QuantityText.h"

#include <catch2/catch.hpp>

#include <limits>

using namespace couplet;

TEST_CASE("levels have two decimals and a real minus sign unless a hyphen is asked for")
{
    CHECK(levelText(93.97) == "93.97");
    CHECK(levelText(-28.05) == "\u221228.05");
    CHECK(levelText(-28.05, Minus::hyphen) == "-28.05");
    CHECK(signedLevelText(121.97) == "+121.97");
    CHECK(signedLevelText(0.11) == "+0.11");
    CHECK(signedLevelText(-0.355) == "\u22120.36");
}

TEST_CASE("levels are rounded half away from zero, also where binary falls short of the half")
{
    CHECK(levelText(0.125) == "0.13");
    CHECK(levelText(-0.125, Minus::hyphen) == "-0.13");
    CHECK(levelText(1.005) == "1.01");   // 1.00499999999999989...
    CHECK(levelText(93.865) == "93.87"); // 93.8649999999999948...
    CHECK(levelText(94.005 - 94.0) == "0.01");
    CHECK(levelText(93.8649) == "93.86");
}

TEST_CASE("zero has no sign")
{
    CHECK(levelText(-0.0) == "0.00");
    CHECK(levelText(-0.004) == "0.00");
    CHECK(signedLevelText(-0.004) == "0.00");
    CHECK(signedLevelText(0.004) == "0.00");
    CHECK(voltageText(Volts(-0.0)) == "0.00 \u00b5V");
}

TEST_CASE("an uncertainty is rounded upward and never to nothing")
{
    CHECK(uncertaintyText(0.5221) == "\u00b10.53");
    CHECK(uncertaintyText(0.53) == "\u00b10.53");
    CHECK(uncertaintyText(0.5306) == "\u00b10.54");
    CHECK(uncertaintyText(1e-6) == "\u00b10.01");
    CHECK(uncertaintyText(0.0) == "\u00b10.00");
    CHECK(uncertaintyText(2.000002 * 0.225) == "\u00b10.45"); // k for 95.45 % adds no hundredth to 2 u
}

TEST_CASE("a level that is no number is not printed as one")
{
    CHECK(levelText(std::numeric_limits<double>::quiet_NaN()) == "no value");
    CHECK(signedLevelText(std::numeric_limits<double>::infinity()) == "no value");
    CHECK(uncertaintyText(std::numeric_limits<double>::infinity()) == "no value");
}

TEST_CASE("voltages take the unit that suits them, also where rounding carries over")
{
    CHECK(voltageText(Volts(0.1232)) == "123.2 mV");
    CHECK(voltageText(Volts(2.0)) == "2.00 V");
    CHECK(voltageText(Volts(0.0624)) == "62.4 mV");
    CHECK(voltageText(Volts(0.00512)) == "5.12 mV");
    CHECK(voltageText(Volts(62.4e-6)) == "62.4 \u00b5V");
    CHECK(voltageText(Volts(0.99996)) == "1.00 V");
    CHECK(voltageText(Volts(0.9999)) == "999.9 mV");
    CHECK(voltageText(Volts(0.99996e-3)) == "1.00 mV");
    CHECK(voltageText(Volts(9.996e-3)) == "10.0 mV");
}

TEST_CASE("frequencies and impedances read as they are written on paper")
{
    CHECK(frequencyText(Hertz(500.0123)) == "500.01 Hz");
    CHECK(nominalFrequencyText(Hertz(1000.04)) == "1 kHz");
    CHECK(nominalFrequencyText(Hertz(999.7)) == "1 kHz");
    CHECK(nominalFrequencyText(Hertz(500.01)) == "500 Hz");
    CHECK(nominalFrequencyText(Hertz(31.5)) == "31.5 Hz");
    CHECK(impedanceText(Ohms(24.0)) == "24 \u03a9");
    CHECK(impedanceText(Ohms(1200.0)) == "1.2 k\u03a9");
}

TEST_CASE("signed figures of any number of decimals have a real minus sign, a plus, and no negative nothing")
{
    CHECK(signedText(-0.00314, 4) == "\u22120.0031");
    CHECK(signedText(0.056, 3) == "+0.056");
    CHECK(signedText(-0.00004, 3) == "0.000");
    CHECK(signedText(-6.05, 2, Minus::hyphen) == "-6.05");
    CHECK(decimalText(-41.25, 1) == "\u221241.3");
}
