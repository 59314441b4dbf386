// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/QuantityText.h"

#include <catch2/catch.hpp>

#include <clocale>

using namespace couplet;

namespace {

template <class T> std::string sentenceOf(const Outcome<T>& outcome)
{
    REQUIRE_FALSE(outcome);
    return outcome.fault().sentence;
}

bool holds(const std::string& sentence, const std::string& part)
{
    return sentence.find(part) != std::string::npos;
}

} // namespace

TEST_CASE("a voltage is the same however its unit is written")
{
    for (const auto text :
         {"62.4mV", "0.0624 V", "62400uV", "62400 \u00b5V", "62400\u03bcV", " 62.4\u00a0mV ", "+62.4mV", "6.24e-2V"}) {
        CAPTURE(text);
        const auto voltage = parseVolts(text);
        REQUIRE(voltage);
        CHECK(voltage->value == 0.0624);
    }
    CHECK(*parseVolts("5uV") == Volts(5e-6));
    CHECK(*parseVolts("5\u00b5V") == Volts(5e-6));
}

TEST_CASE("impedances are read in words and in ohm signs")
{
    CHECK(*parseOhms("24ohm") == Ohms(24.0));
    CHECK(*parseOhms("24 \u03a9") == Ohms(24.0));
    CHECK(*parseOhms("24\u2126") == Ohms(24.0));
    CHECK(*parseOhms("1.2kohm") == Ohms(1200.0));
    CHECK(*parseOhms("50mohm") == Ohms(0.05));
    CHECK(*parseOhms("1M\u03a9") == Ohms(1e6));
}

TEST_CASE("frequencies, pressures, percentages and decibels are read with their units")
{
    CHECK(*parseHertz("500Hz") == Hertz(500.0));
    CHECK(*parseHertz("1kHz") == Hertz(1000.0));
    CHECK(*parseKilopascals("98.6kPa") == Kilopascals(98.6));
    CHECK(*parseKilopascals("986hPa") == Kilopascals(98.6));
    CHECK(*parseKilopascals("986 mbar") == Kilopascals(98.6));
    CHECK(*parseKilopascals("98600Pa") == Kilopascals(98.6));
    CHECK(*parsePercent("0.5%") == Percent(0.5));
    CHECK(*parsePercent("0 %") == Percent(0.0));
    CHECK(*parseDecibels("1.36dB") == 1.36);
    CHECK(*parseDecibels("-3 dB") == -3.0);
    CHECK(*parseDecibels("\u22123 dB") == -3.0);
}

TEST_CASE("a bare number is refused with the units it could have")
{
    CHECK(sentenceOf(parseVolts("0.0624")) == "'0.0624' has no unit; write it with uV, mV or V, for example 62.4mV");
    CHECK(holds(sentenceOf(parseOhms("24")), "'24' has no unit; write it with mohm, ohm, kohm or Mohm"));
    CHECK(holds(sentenceOf(parseHertz("500")), "Hz or kHz, for example 500Hz"));
    CHECK(holds(sentenceOf(parseDecibels("1.36")), "'1.36' has no unit; write it with dB"));
    CHECK(holds(sentenceOf(parseKilopascals("98.6")), "kPa, hPa, mbar or Pa"));
    CHECK(holds(sentenceOf(parsePercent("0.5")), "%"));
}

TEST_CASE("case is as in SI, so that milli is not mega and siemens is not seconds")
{
    CHECK(holds(sentenceOf(parseVolts("62.4mv")), "'62.4mv' has the unknown unit 'mv'"));
    CHECK_FALSE(parseVolts("62.4MV"));
    CHECK_FALSE(parseHertz("500hz"));
    CHECK_FALSE(parseHertz("1KHz"));
    CHECK_FALSE(parseDecibels("3db"));
    CHECK_FALSE(parseKilopascals("98.6kpa"));
}

TEST_CASE("another quantity's unit is refused")
{
    CHECK_FALSE(parseVolts("24ohm"));
    CHECK_FALSE(parseOhms("1V"));
    CHECK_FALSE(parseHertz("3dB"));
    CHECK_FALSE(parseDecibels("3%"));
}

TEST_CASE("a decimal comma has a sentence of its own, whatever the locale")
{
    CHECK(holds(sentenceOf(parseVolts("62,4mV")), "'62,4mV' has a comma; write a decimal point"));
    CHECK(holds(sentenceOf(parseHertz("1,000Hz")), "comma"));
    const std::string before = std::setlocale(LC_ALL, nullptr);
    for (const auto name : {"de_DE.UTF-8", "fr_FR.UTF-8", "C.UTF-8"}) {
        std::setlocale(LC_ALL, name); // one that is not installed leaves the locale as it was
        CHECK(*parseVolts("62.4mV") == Volts(0.0624));
        CHECK_FALSE(parseVolts("62,4mV"));
        CHECK(levelText(93.97) == "93.97");
    }
    std::setlocale(LC_ALL, before.c_str());
}

TEST_CASE("what no quantity can be is refused with one sentence")
{
    for (const auto text : {"-3mV",    "\u22123mV", "0V",      "-0V",   "nanV", "infV",    "-infV", "1e999V",
                            "1e-999V", "1e300V",    "V",       "mV",    "",     "   ",     "abc",   "--3mV",
                            "+-3mV",   "62.4 m V",  "62.4mVV", "0x10V", "1e5",  "62.4.1mV"}) {
        CAPTURE(text);
        const auto sentence = sentenceOf(parseVolts(text));
        CHECK(holds(sentence, "for example 62.4mV"));
        CHECK_FALSE(holds(sentence, "\n"));
    }
    CHECK(holds(sentenceOf(parseVolts("-3mV")), "must be above zero"));
    CHECK(holds(sentenceOf(parseOhms("0ohm")), "must be above zero"));
    CHECK(holds(sentenceOf(parseOhms("1e308Mohm")), "out of range"));
    CHECK(holds(sentenceOf(parseDecibels("nandB")), "not a finite number"));
    CHECK(sentenceOf(parseDecibels("1e5dB")) ==
          "'1e5dB' is out of range: at most 1000 dB is taken; write for example 1.36dB");
    CHECK(holds(sentenceOf(parsePercent("-1%")), "must not be negative"));
    CHECK_FALSE(parsePercent("101%"));
    CHECK_FALSE(parseHertz("0Hz"));
    CHECK_FALSE(parseKilopascals("0kPa"));
}

TEST_CASE("an ideal source has no impedance, an earphone always has one")
{
    CHECK(*parseSourceOhms("0ohm") == Ohms(0.0));
    CHECK(*parseSourceOhms("1ohm") == Ohms(1.0));
    CHECK_FALSE(parseSourceOhms("-1ohm"));
    CHECK_FALSE(parseOhms("0ohm"));
}

TEST_CASE("what is quoted in a sentence stays one short line of whole characters")
{
    CHECK(quoted("a\nb\x7f") == "'a b '");
    const std::string manyOmegas = [] {
        std::string text = "x"; // so that the cut falls within a character
        for (int i = 0; i < 100; ++i)
            text += "\u03a9";
        return text;
    }();
    const auto result = quoted(manyOmegas);
    CHECK(result.size() < 70);
    CHECK(result.ends_with("\u03a9\u2026'"));
    CHECK((result.size() - std::string_view("'x\u2026'").size()) % 2 == 0); // every omega has both its bytes
}
