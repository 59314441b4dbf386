// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/CouplerTolerance.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

namespace {

Figure between(CouplerKind kind, double reference_Hz, double tone_Hz)
{
    return couplerBetween({kind, Hertz(reference_Hz), Hertz(tone_Hz), {}});
}

} // namespace

TEST_CASE("an ear simulator's tolerance is that of the published table")
{
    for (const auto& row : published::table("iec60711_relative_level_table2").rows) {
        const double f = row.number("nominal_hz");
        CAPTURE(f);
        const double published_dB =
            row.isBlank("tol_db") ? 0.0 : row.number("tol_db"); // blank at 500 Hz, its reference
        CHECK(*earSimulatorTolerance_dB(Hertz(f)) == Approx(published_dB).margin(1e-12));
    }
    // Half way on a logarithmic scale between 1600 Hz (0.5 dB) and 2000 Hz (0.6 dB).
    CHECK(*earSimulatorTolerance_dB(Hertz(std::sqrt(1600.0 * 2000.0))) == Approx(0.55));
    CHECK(earSimulatorTolerance_dB(Hertz(99.95))); // meant to be 100 Hz
    for (const double f : {0.0, -1.0, 20.0, 99.0, 10100.0, std::nan("")})
        CHECK_FALSE(earSimulatorTolerance_dB(Hertz(f)));
}

TEST_CASE("from the reference to the tone a coupler may deviate by the tolerances at both")
{
    const auto both = between(CouplerKind::earSimulator, 1000.04, 250.0);
    REQUIRE(both.budget.size() == 2);
    CHECK(both.budget[0].name == "coupler at 1 kHz");
    CHECK(both.budget[0].u_dB == Approx(0.5 / std::sqrt(3.0)));
    CHECK(both.budget[0].shape == Shape::rectangular);
    CHECK(both.budget[1].name == "coupler at 250 Hz");
    CHECK(both.budget[1].u_dB == Approx(0.4 / std::sqrt(3.0)).margin(1e-4));
    CHECK(between(CouplerKind::earSimulator, 250.0, 500.01).budget.size() == 1); // all levels are re 500 Hz
    CHECK(between(CouplerKind::earSimulator, 1000.0, 1000.04).budget.empty());
    CHECK(between(CouplerKind::earSimulator, 1000.0, 50.0).missing.size() == 1);
}

TEST_CASE("what is no ear simulator has no tolerance of one")
{
    CHECK(between(CouplerKind::bareMicrophone, 1000.0, 50.0).hasUncertainty());
    CHECK(between(CouplerKind::bareMicrophone, 1000.0, 500.0).budget.empty());
    CHECK_FALSE(between(CouplerKind::other, 1000.0, 500.0).hasUncertainty());
    CHECK(between(CouplerKind::other, 1000.0, 1000.0).hasUncertainty());
    const auto set = couplerBetween({CouplerKind::other, Hertz(1000.0), Hertz(500.0), 0.15});
    REQUIRE(set.budget.size() == 1);
    CHECK(set.budget[0].u_dB == 0.15);
    CHECK(set.budget[0].obtained == "set by you");
    const auto assumed = couplerBetween({CouplerKind::notStated, {}, Hertz(500.0), {}});
    REQUIRE(assumed.budget.size() == 1);
    CHECK(assumed.budget[0].obtained == "IEC 60711 Table 2, kind of coupler assumed, reference there assumed");
}

TEST_CASE("a coupler's kind is told from the words of its profile")
{
    for (const char* words : {"ear simulator IEC 60318-4", "Ear Simulator", "IEC 60711", "711 coupler"})
        CHECK(couplerKindFrom(words) == CouplerKind::earSimulator);
    CHECK(couplerKindFrom("Bare microphone") == CouplerKind::bareMicrophone);
    for (const char* words : {"acoustic coupler IEC 60318-5", "artificial ear IEC 60318-1"})
        CHECK(couplerKindFrom(words) == CouplerKind::other);
    for (const char* words : {"", "banc de gauche"})
        CHECK(couplerKindFrom(words) == CouplerKind::notStated);
}
