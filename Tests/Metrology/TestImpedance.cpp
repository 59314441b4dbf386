// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Difference.h"
#include "Metrology/Sound.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <optional>
#include <random>
#include <string>

// Impedance is not exact: a maker rates an earphone of unknown true impedance in the way that its rating's form says, by
// Ohm's law; an honest one must not be told that it differs.

using namespace couplet;

namespace {

constexpr double rated_ohm = 24.0, printed_dB = 100.0;

// How a maker may find his figure. Voltages are worked out from the circuit, not from a load term in dB.
enum class Maker { perVolt, emfBehind120, milliwattBehind120, milliwattAtConnector, trueMilliwatt };
constexpr Maker makers[] = {Maker::perVolt, Maker::emfBehind120, Maker::milliwattBehind120, Maker::milliwattAtConnector,
                            Maker::trueMilliwatt};

// Voltage across an earphone of the impedance z while the maker reads the printed level.
double makersVolts(Maker maker, double z)
{
    const double ofMilliwatt = std::sqrt(1e-3 * rated_ohm);
    switch (maker) {
    case Maker::perVolt:
        return 1.0;
    case Maker::emfBehind120:
        return 0.5 * z / (z + 120.0);
    case Maker::milliwattBehind120:
        return ofMilliwatt * (rated_ohm + 120.0) / rated_ohm * z / (z + 120.0);
    case Maker::milliwattAtConnector:
        return ofMilliwatt;
    case Maker::trueMilliwatt:
        return std::sqrt(1e-3 * z);
    }
    return 0.0;
}

Rating asPrinted(Maker maker)
{
    Rating rating;
    rating.level_dB = printed_dB;
    rating.frequency = Hertz(1000.0);
    rating.tolerance_dB = 0.5;
    rating.impedance = Ohms(rated_ohm);
    if (maker == Maker::emfBehind120) {
        rating.form = Rating::Form::atVoltage;
        rating.voltage = Volts(0.5);
    }
    else if (maker != Maker::perVolt) {
        rating.form = Rating::Form::perMilliwatt;
    }
    if (maker == Maker::emfBehind120 || maker == Maker::milliwattBehind120)
        rating.ratedSource = Ohms(120.0);
    return rating;
}

Drive driveBehind(double source_ohm)
{
    Drive drive;
    drive.voltage = Volts(0.2);
    if (source_ohm > 0.0)
        drive.source = Ohms(source_ohm);
    drive.meterAccuracy = Percent(0.5);
    return drive;
}

double shareThatDiffers(Maker maker, double source_ohm, std::mt19937_64& engine)
{
    const auto rectangle = [&](double a) { return std::uniform_real_distribution<double>(-a, a)(engine); };
    const auto expected = expectedLevel(asPrinted(maker), driveBehind(source_ohm), Hertz(1000.0));
    REQUIRE(expected);
    constexpr int trials = 4000;
    int differing = 0;
    std::optional<double> U_dB; // both budgets are the same in each trial
    for (int i = 0; i < trials; ++i) {
        const double z = rated_ohm * (1.0 + rectangle(0.2));
        const double volts = 0.2 * (1.0 + rectangle(0.005)) * z / (z + source_ohm);
        Figure measured;
        measured.level_dB = printed_dB + rectangle(0.5) + 20.0 * std::log10(volts / makersVolts(maker, z)) +
                            std::normal_distribution<double>(0.0, 0.15)(engine);
        measured.budget = {{"measured", 0.15, infiniteDegrees, Shape::normal, "drawn"}};
        if (!U_dB) {
            const Difference first = compare(measured, *expected);
            U_dB = first.expanded->U_dB;
            CHECK((first.verdict == Verdict::differs) == (std::abs(first.D_dB) > *U_dB));
        }
        differing += std::abs(measured.level_dB - expected->level_dB) > *U_dB ? 1 : 0;
    }
    return static_cast<double>(differing) / trials;
}

double u_dB(const Rating& rating, double source_ohm)
{
    const auto expected = expectedLevel(rating, driveBehind(source_ohm), Hertz(1000.0));
    REQUIRE(expected);
    for (const auto& term : expected->budget)
        if (term.name == "impedance of the earphone")
            return term.u_dB;
    return 0.0;
}

} // namespace

TEST_CASE("an honest earphone with its impedance within 20 % differs in at most 6 % of cases")
{
    std::mt19937_64 engine{60268};
    for (const Maker maker : makers)
        for (const double source_ohm : {0.0, 1.0, 10.0, 33.0, 120.0}) {
            CAPTURE(static_cast<int>(maker), source_ohm);
            CHECK(shareThatDiffers(maker, source_ohm, engine) <= 0.06);
        }
}

TEST_CASE("where the impedance does not matter it widens nothing")
{
    CHECK(u_dB(asPrinted(Maker::perVolt), 0.0) == 0.0);
    auto connector = asPrinted(Maker::milliwattAtConnector);
    connector.ratedSource = Ohms(0.0); // a voltage at the connector (IEC 60268-7 8.5.3 c)
    CHECK(u_dB(connector, 0.0) == 0.0);
    // Rated behind the source that drives it: one loss in both.
    CHECK(u_dB(asPrinted(Maker::emfBehind120), 120.0) == Approx(0.0).margin(1e-12));
    CHECK(u_dB(asPrinted(Maker::milliwattBehind120), 120.0) == Approx(0.0).margin(1e-12));
    auto exact = asPrinted(Maker::trueMilliwatt);
    exact.impedanceTolerance = Percent(0.0);
    CHECK(u_dB(exact, 10.0) == 0.0);
}

TEST_CASE("the impedance's term is what even draws over its tolerance make of the level")
{
    // Root mean square of 10 lg of 0.8 to 1.2, drawn evenly: 0.507 dB (two million draws with numpy).
    CHECK(u_dB(asPrinted(Maker::trueMilliwatt), 0.0) == Approx(0.507).margin(0.001));
    // Of 20 lg(Z / (Z + 1 ohm)) about 24 ohm: 0.0416 dB, likewise.
    CHECK(u_dB(asPrinted(Maker::perVolt), 1.0) == Approx(0.0416).margin(0.0002));
    auto stated = asPrinted(Maker::perVolt);
    stated.impedanceTolerance = Percent(10.0);
    CHECK(u_dB(stated, 1.0) == Approx(0.0416 / 2.0).margin(0.001));
    const auto how = [](const Rating& rating) {
        return expectedLevel(rating, driveBehind(1.0), Hertz(1000.0))->budget[2].obtained;
    };
    CHECK(how(stated) == "stated, 24 \u03a9 \u00b110 %");
    CHECK(how(asPrinted(Maker::perVolt)) == "assumed, 24 \u03a9 \u00b120 %");
}
