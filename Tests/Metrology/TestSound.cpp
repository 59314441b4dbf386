// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Difference.h"
#include "Metrology/Offset.h"
#include "Metrology/Sound.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <complex>

using namespace couplet;

namespace {

Rating ratingAsStated()
{
    Rating rating;
    rating.level_dB = 112.40;
    rating.frequency = Hertz(500.0);
    rating.tolerance_dB = 1.0;
    rating.impedance = Ohms(24.0);
    return rating;
}

Drive driveAsStated()
{
    Drive drive;
    drive.voltage = Volts(0.1232);
    drive.source = Ohms(1.0);
    drive.meterAccuracy = Percent(0.5);
    return drive;
}

MeasuredInput takeOfEarphoneS()
{
    ReferenceInput reference;
    reference.certifiedLevel_dB = 114.02;
    reference.certificateU_dB = 0.15;
    reference.correction = Correction{};
    reference.correction->value_dB = 1.36;
    reference.correction->U_dB = 0.45;
    reference.correction->includesCalibrator = true;
    reference.tone_dBFS = -9.31;
    reference.toneU_dB = 0.004;
    reference.frequency = Hertz(1000.04);

    MeasuredInput input;
    input.tone_dBFS = -28.05;
    input.frequency = Hertz(500.01);
    input.offset = *offsetFrom(reference);
    input.response_dB = 0.05;
    return input;
}

Figure expected(const Rating& rating, const Drive& drive, Hertz tone = Hertz(500.01))
{
    const auto result = expectedLevel(rating, drive, tone);
    REQUIRE(result);
    return *result;
}

double sumOf(const Figure& figure)
{
    double sum = 0.0;
    for (const auto& addend : figure.addends)
        sum += addend.value_dB;
    return sum;
}

bool isMissing(const Figure& figure, const std::string& phrase)
{
    for (const auto& missing : figure.missing)
        if (missing.find(phrase) != std::string::npos)
            return true;
    return false;
}

double uOf(const Figure& figure, const std::string& name)
{
    for (const auto& term : figure.budget)
        if (term.name == name)
            return term.u_dB;
    return -1.0;
}

} // namespace

TEST_CASE("the measured level of a read is the sum of its lines")
{
    const auto measured = measuredLevel(takeOfEarphoneS());
    REQUIRE(measured.addends.size() == 3);
    CHECK(measured.addends[0].name == "tone at the input, 500.01 Hz");
    CHECK(measured.addends[0].value_dB == -28.05);
    CHECK(rounded_dB(measured.addends[1].value_dB) == 121.97);
    CHECK(measured.addends[2].value_dB == 0.05);
    CHECK(sumOf(measured) == measured.level_dB);
    CHECK(rounded_dB(measured.level_dB) == 93.97);
    CHECK(measured.hasUncertainty());
    CHECK(roundedUp_dB(expand(measured.budget).U_dB) == 0.53);
}

TEST_CASE("the expected level of a read is the sum of its lines")
{
    const auto figure = expected(ratingAsStated(), driveAsStated());
    REQUIRE(figure.addends.size() == 3);
    CHECK(figure.addends[0].name == "drive 123.2 mV open circuit, in dBV");
    CHECK(rounded_dB(figure.addends[0].value_dB) == -18.19);
    CHECK(figure.addends[1].name == "rated, dB SPL for 1 V at 500 Hz");
    CHECK(rounded_dB(figure.addends[1].value_dB) == 112.40);
    CHECK(figure.addends[2].name == "source 1 \u03a9 into 24 \u03a9");
    CHECK(rounded_dB(figure.addends[2].value_dB) == -0.35);
    CHECK(sumOf(figure) == figure.level_dB);
    CHECK(rounded_dB(figure.level_dB) == 93.86);
    CHECK(figure.hasUncertainty());
    CHECK(roundedUp_dB(expand(figure.budget).U_dB) == 1.00);
}

TEST_CASE("a voltmeter's accuracy enters as a rectangle through the logarithm")
{
    const auto figure = expected(ratingAsStated(), driveAsStated());
    CHECK(uOf(figure, "drive voltage") == Approx(20.0 * std::log10(1.005) / std::sqrt(3.0)).epsilon(1e-12));
    // Tolerance 1.00, voltmeter 0.043 and 24 ohm within 20 % as rectangles, the load's 0.098 as a normal: 0.9963 by two
    // million draws with numpy, JCGM 101 style.
    CHECK(expand(figure.budget).U_dB == Approx(0.9963).margin(4e-4).epsilon(0.0));
}

TEST_CASE("the difference of a read agrees within its own uncertainty")
{
    const auto difference = compare(measuredLevel(takeOfEarphoneS()), expected(ratingAsStated(), driveAsStated()));
    CHECK(rounded_dB(difference.D_dB) == 0.11);
    REQUIRE(difference.expanded);
    CHECK(roundedUp_dB(difference.expanded->U_dB) == 1.18);
    CHECK(difference.verdict == Verdict::agrees);
    CHECK(*difference.enNumber == Approx(0.09).margin(0.01).epsilon(0.0));
}

TEST_CASE("terms of the moment enter a measured level only when they are there")
{
    auto input = takeOfEarphoneS();
    const auto plain = measuredLevel(input);
    CHECK(uOf(plain, "steadiness of the tone") == -1.0);
    CHECK(uOf(plain, "hum on the tone") == -1.0);
    CHECK(uOf(plain, "inserting it again") == 0.11);
    input.steadinessU_dB = 0.01;
    input.humBoundU_dB = 0.02;
    input.insertion = false;
    const auto other = measuredLevel(input);
    CHECK(uOf(other, "steadiness of the tone") == 0.01);
    CHECK(uOf(other, "hum on the tone") == 0.02);
    CHECK(uOf(other, "inserting it again") == -1.0);
    CHECK(other.level_dB == plain.level_dB);
}

TEST_CASE("without a response table no line is added and the assumption stands in the budget")
{
    auto input = takeOfEarphoneS();
    input.response_dB.reset();
    const auto measured = measuredLevel(input);
    CHECK(measured.addends.size() == 2);
    CHECK(rounded_dB(measured.level_dB) == 93.92);
    CHECK(uOf(measured, "microphone response") == 0.05);
}

TEST_CASE("what an offset lacks, a level made with it lacks")
{
    auto input = takeOfEarphoneS();
    input.offset.missing = {"the uncertainty of the coupler's correction is not stated"};
    CHECK_FALSE(measuredLevel(input).hasUncertainty());
}

TEST_CASE("what is not stated is named, and the level still stands")
{
    auto rating = ratingAsStated();
    rating.tolerance_dB.reset();
    auto figure = expected(rating, driveAsStated());
    CHECK(figure.missing == std::vector<std::string>{"the rating's tolerance is not stated"});
    CHECK(rounded_dB(figure.level_dB) == 93.86);

    rating = ratingAsStated();
    rating.frequency.reset();
    figure = expected(rating, driveAsStated(), Hertz(3000.0));
    CHECK(figure.missing == std::vector<std::string>{"the rating's frequency is not stated"});
    CHECK(rounded_dB(figure.level_dB) == 93.86);

    auto drive = driveAsStated();
    drive.meterAccuracy.reset();
    CHECK(isMissing(expected(ratingAsStated(), drive), "the voltmeter's accuracy is not stated"));
    drive.sensed = true;
    CHECK(isMissing(expected(ratingAsStated(), drive), "the drive input's full scale is not stated"));

    rating = ratingAsStated();
    rating.impedance.reset();
    figure = expected(rating, driveAsStated());
    CHECK(isMissing(figure, "impedance is not stated"));
    CHECK(rounded_dB(figure.level_dB) == 94.21); // the loss in the source left out
    CHECK_FALSE(compare(measuredLevel(takeOfEarphoneS()), figure).verdict);
}

TEST_CASE("a voltage across the earphone includes the load")
{
    auto drive = driveAsStated();
    drive.source.reset();
    auto rating = ratingAsStated();
    rating.impedance.reset(); // and needs no impedance
    const auto figure = expected(rating, drive);
    CHECK(figure.hasUncertainty());
    CHECK(figure.addends.size() == 2);
    CHECK(figure.addends[0].name == "drive 123.2 mV across the earphone, in dBV");
    CHECK(rounded_dB(figure.level_dB) == 94.21);
    CHECK(uOf(figure, "phase of the load") == -1.0);
}

TEST_CASE("a rating at another frequency gives no expected level")
{
    const auto outcome = expectedLevel(ratingAsStated(), driveAsStated(), Hertz(1000.0));
    REQUIRE_FALSE(outcome);
    CHECK(outcome.fault().sentence == "the tone is at 1000.00 Hz and the rating holds at 500 Hz only; play 500 Hz or "
                                      "use a rating for the tone's frequency");
    auto noImpedance = ratingAsStated();
    noImpedance.form = Rating::Form::perMilliwatt;
    noImpedance.impedance.reset();
    CHECK_FALSE(expectedLevel(noImpedance, driveAsStated(), Hertz(500.0)));
    auto noDrive = driveAsStated();
    noDrive.voltage = Volts(0.0);
    CHECK_FALSE(expectedLevel(ratingAsStated(), noDrive, Hertz(500.0)));
}

TEST_CASE("the load's span is that of a complex impedance between 0 and 60 degrees")
{
    const auto loss_dB = [](double Z, double R, double phase) {
        const auto load = std::polar(Z, phase);
        return 20.0 * std::log10(std::abs(load / (load + R)));
    };
    for (const double Z : {8.0, 24.0, 300.0})
        for (const double R : {0.5, 1.0, 10.0, 120.0})
            CHECK(loadPhaseSpan_dB(Ohms(Z), Ohms(R)) ==
                  Approx(loss_dB(Z, R, std::acos(0.5)) - loss_dB(Z, R, 0.0)).epsilon(1e-10));
    // 1 ohm into 24 ohm: from -0.35 to -0.18 dB (computed)
    CHECK(loadPhaseSpan_dB(Ohms(24.0), Ohms(1.0)) == Approx(0.17).margin(0.005).epsilon(0.0));
    CHECK(uOf(expected(ratingAsStated(), driveAsStated()), "phase of the load") ==
          Approx(loadPhaseSpan_dB(Ohms(24.0), Ohms(1.0)) / std::sqrt(3.0)).epsilon(1e-12));
}

TEST_CASE("an earphone driven from the source it is rated behind needs no phase")
{
    auto rating = ratingAsStated();
    rating.form = Rating::Form::atVoltage;
    rating.level_dB = 94.0;
    rating.voltage = Volts(0.1);
    rating.ratedSource = Ohms(120.0);
    auto drive = driveAsStated();
    drive.voltage = Volts(0.1);
    drive.source = Ohms(120.0);
    const auto same = expected(rating, drive);
    CHECK(same.level_dB == Approx(94.0).epsilon(1e-12));
    CHECK(uOf(same, "phase of the load") == -1.0);
    drive.source.reset(); // but one driven at its terminals does
    CHECK(uOf(expected(rating, drive), "phase of the load") ==
          Approx(loadPhaseSpan_dB(Ohms(24.0), Ohms(120.0)) / std::sqrt(3.0)).epsilon(1e-12));
}
