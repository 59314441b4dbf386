// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Expanded.h"
#include "Metrology/Offset.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace couplet;

namespace {

ReferenceInput calibratorOnly()
{
    ReferenceInput input;
    input.certifiedLevel_dB = 114.02;
    input.certificateU_dB = 0.15;
    input.tone_dBFS = -9.31;
    input.toneU_dB = 0.004;
    input.frequency = Hertz(1000.04);
    input.pressureLaw.kind = PressureLaw::Kind::none;
    return input;
}

Correction correction(double value_dB, std::optional<double> U_dB)
{
    Correction result;
    result.value_dB = value_dB;
    result.U_dB = U_dB;
    return result;
}

Figure offset(const ReferenceInput& input)
{
    const auto result = offsetFrom(input);
    REQUIRE(result);
    return *result;
}

const BudgetTerm* termOf(const Figure& figure, const std::string& name)
{
    const auto found = std::find_if(figure.budget.begin(), figure.budget.end(),
                                    [&name](const BudgetTerm& term) { return term.name == name; });
    return found == figure.budget.end() ? nullptr : &*found;
}

} // namespace

TEST_CASE("114.0 dB behind a coupler that takes 1.5 dB is 112.5 dB at its microphone")
{
    auto input = calibratorOnly(); // arithmetic of the trade, no source
    input.certifiedLevel_dB = 114.0;
    input.correction = correction(1.5, 0.45);
    input.tone_dBFS = 0.0;
    CHECK(offset(input).level_dB == Approx(112.5).epsilon(1e-12));
}

TEST_CASE("a reference's sum and budget come out")
{
    auto input = calibratorOnly();
    input.correction = correction(1.36, 0.45);
    input.correction->includesCalibrator = true;
    const auto figure = offset(input);
    CHECK(rounded_dB(figure.level_dB) == 121.97);
    double sum = 0.0;
    for (const auto& addend : figure.addends)
        sum += addend.value_dB;
    CHECK(sum == Approx(figure.level_dB).epsilon(1e-12));
    REQUIRE(figure.addends.size() == 4);
    CHECK(figure.addends[0].name == "certified level, 1 kHz");
    CHECK(figure.addends[1].name == "static pressure: regulates itself");
    CHECK(figure.addends[2].name == "taken by the coupler");
    CHECK(figure.addends[2].value_dB == -1.36);

    CHECK(figure.hasUncertainty());
    CHECK(termOf(figure, "correction, with the calibrator")->u_dB == 0.225);
    CHECK(termOf(figure, "seating it again")->u_dB == 0.05);
    CHECK(termOf(figure, "drift since")->u_dB == 0.02);
    CHECK(termOf(figure, "reading")->u_dB == 0.004);
    CHECK(figure.budget.size() == 5);
    CHECK(roundedUp_dB(expand(figure.budget).U_dB) == 0.47);
}

TEST_CASE("the calibrator's certificate counts once, and besides a correction found with another one")
{
    auto input = calibratorOnly();
    CHECK(termOf(offset(input), "calibrator")->u_dB == 0.075); // a bare microphone
    input.correction = correction(1.36, 0.45);
    CHECK(termOf(offset(input), "correction")->u_dB == 0.225);
    CHECK(termOf(offset(input), "calibrator")->u_dB == 0.075);
    input.correction->includesCalibrator = true;
    CHECK(termOf(offset(input), "calibrator") == nullptr);
}

TEST_CASE("a calibrator without certificate is known by its class alone, and without either not at all")
{
    auto input = calibratorOnly();
    input.calibratorClass = 2;
    CHECK(termOf(offset(input), "calibrator")->obtained == "certificate"); // and then no class limit besides
    input.certificateU_dB.reset();
    const auto byClass = offset(input);
    CHECK(byClass.hasUncertainty());
    CHECK(termOf(byClass, "calibrator")->u_dB == Approx(0.40 / std::sqrt(3.0))); // IEC 60942:2017 Table 2
    CHECK(termOf(byClass, "calibrator")->shape == Shape::rectangular);
    // The limits of the 2017 edition exclude the laboratory's uncertainty: at most U 0.35 dB for class 2, k = 2.
    CHECK(termOf(byClass, "calibrator, laboratory")->u_dB == Approx(0.175));
    CHECK(termOf(byClass, "calibrator, laboratory")->shape == Shape::normal);
    CHECK(termOf(offset(calibratorOnly()), "calibrator, laboratory") == nullptr);
    const auto bare = withoutCorrection(byClass.addends, byClass.budget, byClass.level_dB);
    CHECK(termOf(bare.offset, "calibrator, laboratory") == nullptr); // it goes with the calibrator

    input.frequency = Hertz(4000.0); // class 2 has no limits there
    CHECK_FALSE(offset(input).hasUncertainty());

    input.calibratorClass.reset();
    const auto unknown = offset(input);
    REQUIRE(unknown.missing.size() == 1);
    CHECK(unknown.missing.front() == "the calibrator has neither a certificate's uncertainty nor a class");
    CHECK(unknown.level_dB == offset(calibratorOnly()).level_dB);
}

TEST_CASE("judged terms are assumed until they are set, and say which")
{
    auto input = calibratorOnly();
    input.pressureLaw = {PressureLaw::Kind::piston, 0.0};
    input.pressure = Kilopascals(100.0);
    CHECK(termOf(offset(input), "seating it again")->obtained == "assumed");
    CHECK(termOf(offset(input), "static pressure")->obtained == "assumed");
    input.judged.seating_dB = 0.03;
    CHECK(termOf(offset(input), "linearity")->u_dB == 0.03);
    CHECK(termOf(offset(input), "linearity")->obtained == "assumed");
    input.judged.linearity_dB = 0.4;
    input.judged.drift_dB = 0.0;
    input.judged.barometer = Kilopascals(0.2);
    const auto figure = offset(input);
    CHECK(termOf(figure, "seating it again")->u_dB == 0.03);
    CHECK(termOf(figure, "seating it again")->obtained == "set by you");
    CHECK(termOf(figure, "linearity")->u_dB == 0.4);
    CHECK(termOf(figure, "linearity")->obtained == "set by you");
    CHECK(termOf(figure, "drift since")->u_dB == 0.0);
    CHECK(termOf(figure, "drift since")->obtained == "set by you");
    CHECK(termOf(figure, "static pressure")->u_dB == Approx(0.2 * 8.686 / 100.0).epsilon(1e-3));
    input.judged.seating_dB = -0.03;
    CHECK_FALSE(offsetFrom(input));
}

TEST_CASE("what was measured of seating and linearity takes the place of what is judged")
{
    auto input = calibratorOnly();
    input.judged.seating_dB = 0.5;
    input.seating = BudgetTerm{"seating it again", 0.012, 2.0, Shape::normal, "scatter of 3 seatings"};
    input.linearity = fromLimits("linearity", 0.02, "step");
    const auto figure = offset(input);
    CHECK(termOf(figure, "seating it again")->u_dB == 0.012);
    CHECK(termOf(figure, "seating it again")->degreesOfFreedom == 2.0);
    CHECK(termOf(figure, "linearity")->u_dB == Approx(0.02 / std::sqrt(3.0)));
}

TEST_CASE("a correction without uncertainty leaves the offset without one")
{
    auto input = calibratorOnly();
    input.correction = correction(1.36, std::nullopt);
    const auto figure = offset(input);
    REQUIRE(figure.missing.size() == 1);
    CHECK(figure.missing.front() == "the uncertainty of the coupler's correction is not stated");
    CHECK(rounded_dB(figure.level_dB) == 121.97);
}

TEST_CASE("a correction belongs to its frequency")
{
    auto input = calibratorOnly();
    input.correction = correction(1.36, 0.45);
    input.correction->frequency = Hertz(1000.0);
    CHECK(offsetFrom(input));
    input.frequency = Hertz(870.0); // its own tone gone astray: for the fitness checks to name
    CHECK(offsetFrom(input));
    input.frequency = Hertz(250.0);
    const auto other = offsetFrom(input);
    REQUIRE_FALSE(other);
    CHECK(other.fault().sentence.find("found at 1 kHz and the tone is at 250 Hz") != std::string::npos);
}

TEST_CASE("a piston source follows the static pressure as the closed cavity says")
{
    // Computed by definition: constant displacement in a closed cavity, 20 lg(p / 101.325 kPa).
    const PressureLaw piston{PressureLaw::Kind::piston, 0.0};
    for (const auto& row : published::table("pistonphone_corrections").rows) {
        const Kilopascals pressure(row.number("static_pressure_kPa"));
        CAPTURE(pressure.value);
        CHECK(pressureCorrection_dB(piston, pressure) == Approx(row.number("dL_db")).margin(5.01e-5).epsilon(0.0));
        CHECK(pressureCorrection_dB({PressureLaw::Kind::none, 0.0}, pressure) == 0.0);
    }
    CHECK(pressureCorrection_dB({PressureLaw::Kind::coefficient, -0.002}, Kilopascals(96.325)) ==
          Approx(0.01).epsilon(1e-9));
}

TEST_CASE("pressure enters the offset when the calibrator follows it, and must then be stated")
{
    auto input = calibratorOnly();
    const double regulated = offset(input).level_dB;
    input.pressureLaw = {PressureLaw::Kind::piston, 0.0};
    CHECK_FALSE(offsetFrom(input));
    input.pressure = Kilopascals(98.0);
    const auto figure = offset(input);
    CHECK(figure.level_dB - regulated == Approx(-0.2898).margin(5e-5).epsilon(0.0));
    CHECK(figure.addends[1].name == "static pressure, 98.0 kPa");
    CHECK(termOf(figure, "static pressure")->u_dB == Approx(0.1 * 8.686 / 98.0).epsilon(1e-3)); // 1 hPa assumed
    input.pressure = Kilopascals(986.0);                                                        // hPa typed as kPa
    CHECK_FALSE(offsetFrom(input));
    input.pressure = Kilopascals(49.9);
    CHECK_FALSE(offsetFrom(input));
}

TEST_CASE("a pressure law that is not stated is named so, and holds at the reference pressure alone")
{
    auto input = calibratorOnly();
    const auto regulated = offset(input);
    input.pressureLaw = {};
    auto figure = offset(input); // where the pressure is not stated either, it is for a note to say
    CHECK(figure.addends[1].name == "static pressure: law not stated");
    CHECK(figure.level_dB == regulated.level_dB);
    CHECK(figure.hasUncertainty());
    input.pressure = Kilopascals(101.4); // within twice the barometer's 0.1 kPa
    figure = offset(input);
    CHECK(figure.hasUncertainty());
    CHECK(termOf(figure, "static pressure")->u_dB == Approx(0.1 * 8.686 / 101.4).epsilon(1e-3)); // as a piston's
    for (const double away_kPa : {98.0, 104.0}) {
        input.pressure = Kilopascals(away_kPa);
        figure = offset(input);
        CHECK_FALSE(figure.hasUncertainty());
        REQUIRE(figure.missing.size() == 1);
        CHECK_THAT(figure.missing.front(), Catch::Contains("is not stated") &&
                                               Catch::Contains(away_kPa < 100.0 ? "off by 0.29 dB" : "off by 0.23 dB"));
    }
    input.pressure = Kilopascals(980.0);
    CHECK_FALSE(offsetFrom(input));
}

TEST_CASE("a reference from figures that cannot be is refused")
{
    auto silent = calibratorOnly();
    silent.tone_dBFS = -INFINITY;
    CHECK_FALSE(offsetFrom(silent));
    auto noLevel = calibratorOnly();
    noLevel.certifiedLevel_dB = std::nan("");
    CHECK_FALSE(offsetFrom(noLevel));
    auto negativeU = calibratorOnly();
    negativeU.certificateU_dB = -0.15;
    CHECK_FALSE(offsetFrom(negativeU));
    auto negativeCorrectionU = calibratorOnly();
    negativeCorrectionU.correction = correction(1.36, -0.45);
    CHECK_FALSE(offsetFrom(negativeCorrectionU));
}
