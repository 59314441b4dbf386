// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Rating.h"
#include "Published/Table.h"
#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

namespace {

Rating rating(Rating::Form form, double level_dB, std::optional<Ohms> impedance = std::nullopt)
{
    Rating result;
    result.form = form;
    result.level_dB = level_dB;
    result.impedance = impedance;
    return result;
}

Rating atVoltage(double level_dB, Volts voltage)
{
    auto result = rating(Rating::Form::atVoltage, level_dB);
    result.voltage = voltage;
    return result;
}

double sensitivity(const Rating& of)
{
    const auto result = sensitivity_dBPerVolt(of);
    REQUIRE(result);
    return *result;
}

Approx printed(double value, double lastDigit)
{
    return Approx(value).margin(0.501 * lastDigit).epsilon(0.0);
}

} // namespace

TEST_CASE("every form of rating gives the sensitivity of the conversion table")
{
    // Computed by Ohm's law with a resistive load; e.m.f. after IEC 60268-7:2010 8.4 (second-hand).
    for (const auto& row : published::table("sensitivity_conversions").rows) {
        const Ohms Z(row.number("Z_ohm"));
        CAPTURE(Z.value);
        const double addend = row.number("add_to_dB_per_mW_for_dB_per_V");
        const double perVolt = sensitivity(rating(Rating::Form::perMilliwatt, 100.0, Z));
        CHECK(perVolt == printed(100.0 + addend, 0.001));
        CHECK(sensitivity_dBPerMilliwatt(perVolt, Z) == Approx(100.0).epsilon(1e-12));
        CHECK(sensitivity(rating(Rating::Form::perVolt, 118.7, Z)) == 118.7);

        // The voltage of a milliwatt makes the level of a milliwatt.
        const double milliwattVolts = row.number("V_for_1mW");
        CHECK(terminalVoltageFor(100.0, perVolt).value == printed(milliwattVolts, 0.0001));
        CHECK(sensitivity(atVoltage(100.0, terminalVoltageFor(100.0, perVolt))) == Approx(perVolt).epsilon(1e-12));

        CHECK(loadLoss_dB(Z, Ohms(120.0)) == printed(row.number("loss_Rs120_db"), 0.001));
        CHECK(loadLoss_dB(Z, Ohms(1.0)) == printed(row.number("loss_Rs1_db"), 0.001));
        CHECK(loadLoss_dB(Z, Ohms(10.0)) == printed(row.number("loss_Rs10_db"), 0.001));
        CHECK(loadLoss_dB(Z, Ohms(0.0)) == 0.0);

        // That milliwatt's e.m.f. behind 120 ohm, as a rating, is the same sensitivity again.
        const double emf = row.number("emf_1mW_120ohm_V");
        auto behindSource = atVoltage(100.0, Volts(emf));
        behindSource.ratedSource = Ohms(120.0);
        behindSource.impedance = Z;
        const double half = dBPerRelative * 0.5e-4 / emf; // of the e.m.f.'s last digit
        CHECK(sensitivity(behindSource) == Approx(perVolt).margin(1.01 * half).epsilon(0.0));
    }
}

TEST_CASE("published worked drives come out")
{
    // A public table of sensitivity at 1 V, impedance, and the drive for 110 dB SPL from an ideal source.
    for (const auto& row : published::table("published_drive_examples").rows) {
        const double S = row.number("S_dB_at_1V"), Z = row.number("Z_ohm");
        const double volts = terminalVoltageFor(110.0, S).value;
        CAPTURE(S);
        CHECK(volts == printed(row.number("V_pub"), 0.001));
        CHECK(1e3 * volts / Z == Approx(row.number("I_mA_pub")).epsilon(5e-4));
        CHECK(1e3 * volts * volts / Z == Approx(row.number("P_mW_pub")).epsilon(5e-4));
        CHECK(volts == printed(row.number("V_calc"), 0.0001));
        CHECK(1e3 * volts / Z == printed(row.number("I_mA_calc"), 0.001));
        CHECK(1e3 * volts * volts / Z == printed(row.number("P_mW_calc"), 0.001));
    }
}

TEST_CASE("90 dB at 50 mV is 116.02 dB for 1 V")
{
    CHECK(sensitivity(atVoltage(90.0, Volts(0.050))) == printed(116.02, 0.01)); // arithmetic of the trade, no source
}

TEST_CASE("a characteristic voltage is the e.m.f. behind its rated source")
{
    // IEC 60268-7:2010 8.3.3 (second-hand): 94 dB at 500 Hz; 120 ohm from IEC 61938.
    auto characteristic = atVoltage(94.0, Volts(0.100));
    characteristic.ratedSource = Ohms(120.0);
    characteristic.impedance = Ohms(24.0);
    CHECK(sensitivity(characteristic) == printed(94.0 + 20.0 + 15.563, 0.001));
    characteristic.impedance.reset();
    CHECK_FALSE(sensitivity_dBPerVolt(characteristic));
    characteristic.ratedSource = Ohms(0.0); // an ideal source needs no impedance
    CHECK(sensitivity(characteristic) == Approx(114.0));
}

TEST_CASE("a milliwatt's rated source moves nothing at the rated impedance")
{
    auto perMilliwatt = rating(Rating::Form::perMilliwatt, 105.0, Ohms(24.0));
    const double alone = sensitivity(perMilliwatt);
    perMilliwatt.ratedSource = Ohms(120.0);
    CHECK(sensitivity(perMilliwatt) == alone);
}

TEST_CASE("a rating that cannot be used says what to state")
{
    const auto perMilliwatt = sensitivity_dBPerVolt(rating(Rating::Form::perMilliwatt, 105.0));
    REQUIRE_FALSE(perMilliwatt);
    CHECK(perMilliwatt.fault().sentence == "the rating is per milliwatt, and the earphone's impedance is not "
                                           "stated; state it, for example 24ohm");
    CHECK_FALSE(sensitivity_dBPerVolt(rating(Rating::Form::atVoltage, 102.0)));
    CHECK_FALSE(sensitivity_dBPerVolt(atVoltage(102.0, Volts(0.0))));
    CHECK_FALSE(sensitivity_dBPerVolt(rating(Rating::Form::perVolt, 201.0)));
    CHECK_FALSE(sensitivity_dBPerVolt(rating(Rating::Form::perVolt, std::nan(""))));
    CHECK_FALSE(sensitivity_dBPerVolt(rating(Rating::Form::perVolt, 118.7, Ohms(0.0))));
    auto negativeTolerance = rating(Rating::Form::perVolt, 118.7);
    negativeTolerance.tolerance_dB = -1.0;
    CHECK_FALSE(sensitivity_dBPerVolt(negativeTolerance));
    for (const double percent : {-1.0, 91.0, std::nan("")}) {
        auto impedance = rating(Rating::Form::perVolt, 118.7, Ohms(24.0));
        impedance.impedanceTolerance = Percent(percent);
        CHECK_FALSE(sensitivity_dBPerVolt(impedance));
    }
}

TEST_CASE("a rating is read as printed and printed as read")
{
    for (const auto text : {"118.7dB/V", "118.7 dB / V", " 118.7dB/ V "}) {
        const auto perVolt = parseRating(text);
        REQUIRE(perVolt);
        CHECK(*perVolt == rating(Rating::Form::perVolt, 118.7));
        CHECK(ratingText(*perVolt) == "118.7 dB/V");
    }
    CHECK(*parseRating("105dB/mW") == rating(Rating::Form::perMilliwatt, 105.0));
    CHECK(ratingText(*parseRating("105dB/mW")) == "105 dB/mW");
    for (const auto text : {"102dB@250mV", "102 dB @ 0.25 V", "102 dB at 250 mV"}) {
        const auto at = parseRating(text);
        REQUIRE(at);
        CHECK(*at == atVoltage(102.0, Volts(0.25)));
        CHECK(ratingText(*at) == "102 dB at 250 mV");
    }
    CHECK(ratingText(atVoltage(102.0, Volts(1.5))) == "102 dB at 1.5 V");
}

TEST_CASE("what is no rating is refused with a mend")
{
    CHECK(parseRating("118.7dB").fault().sentence ==
          "'118.7dB' is not a rating; write it as 118.7dB/V, 105dB/mW or 102dB@250mV");
    for (const auto text :
         {"", "118.7", "118.7/V", "118.7dB/mV", "118.7dB/v", "118.7dB/", "dB/V", "102dB@", "102dB@250", "102dB@0V",
          "102@250mV", "250dB/V", "-30dB/mW", "nandB/V", "118,7dB/V", "102dB@250mV/V"}) {
        CAPTURE(text);
        const auto outcome = parseRating(text);
        REQUIRE_FALSE(outcome);
        CHECK(outcome.fault().sentence.size() > 20);
    }
}

TEST_CASE("a rating holds within a twenty-fourth of an octave of its frequency")
{
    const double edge = std::exp2(1.0 / 24.0);
    CHECK(sameRatingFrequency(Hertz(500.0), Hertz(500.01)));
    CHECK(sameRatingFrequency(Hertz(500.0), Hertz(500.0 * edge)));
    CHECK(sameRatingFrequency(Hertz(500.0), Hertz(500.0 / edge)));
    CHECK_FALSE(sameRatingFrequency(Hertz(500.0), Hertz(500.0 * edge * 1.0001)));
    CHECK_FALSE(sameRatingFrequency(Hertz(500.0), Hertz(500.0 / edge / 1.0001)));
    CHECK_FALSE(sameRatingFrequency(Hertz(500.0), Hertz(1000.0)));
}
