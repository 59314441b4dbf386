// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/CorrectionFit.h"
#include "Metrology/FitBenches.h"
#include "Metrology/Offset.h"
#include "Metrology/Rating.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;
using namespace couplet::tests;

namespace {

double width(const CorrectionFit& fit)
{
    return fit.posterior.all.high_dB - fit.posterior.all.low_dB;
}

} // namespace

TEST_CASE("the sketch's bench gives the figures of the method")
{
    // docs/method.md: from Tests/Metrology/fit_model.py, which knows the equations alone, converged within 0.002 dB.
    const auto p = posteriorOf(sketchEvidence(), FitDepth::each);
    REQUIRE(p);
    const auto isNear = [](double value, double expected, double margin = 0.005) {
        CHECK(value == Approx(expected).margin(margin).epsilon(0.0));
    };
    isNear(p->all.mean_dB, 1.4408, 0.002);
    isNear(p->all.low_dB, 0.9530, 0.002);
    isNear(p->all.high_dB, 2.0409, 0.002);
    isNear(p->all.u_dB, 0.2716, 0.002);
    const double withoutFitting[] = {1.4833, 1.4344, 1.4571, 1.6197}, withoutEarphone[] = {1.4370, 1.4526, 1.4253};
    const double ownErrors[] = {0.0717, 0.1107, 0.1285, 0.2923}, outside[] = {0.01098, 0.01105, 0.01105};
    for (std::size_t i = 0; i < 4; ++i) {
        isNear(p->withoutFitting[i]->mean_dB, withoutFitting[i], 0.002);
        isNear(p->ownError[i], ownErrors[i], 0.002);
    }
    for (std::size_t i = 0; i < 3; ++i) {
        isNear(p->withoutEarphone[i]->mean_dB, withoutEarphone[i], 0.002);
        isNear(p->outside[i], outside[i], 0.0002);
    }
    isNear(*p->kappa, 3.784);
    isNear(p->sign->any, 0.168);
    isNear(p->sign->high, 0.819);
    isNear(p->sign->low, 0.013);
    CHECK(p->peaks_dB.size() == 1);

    auto alone = sketchEvidence();
    alone.earphones.clear();
    const auto fittings = posteriorOf(alone, FitDepth::result)->all;
    isNear(fittings.mean_dB, 1.4212);
    isNear(fittings.low_dB, 0.6636);
    isNear(fittings.high_dB, 2.2682);
    isNear(fittings.u_dB, 0.4054);
}

TEST_CASE("leaving a piece out says the same as never having had it")
{
    const auto all = sketchEvidence();
    const auto whole = posteriorOf(all, FitDepth::each);
    for (std::size_t i = 0; i < all.fittings.size() + all.earphones.size(); ++i) {
        auto less = all;
        const bool isFitting = i < all.fittings.size();
        if (isFitting)
            less.fittings.erase(less.fittings.begin() + static_cast<std::ptrdiff_t>(i));
        else
            less.earphones.erase(less.earphones.begin() + static_cast<std::ptrdiff_t>(i - all.fittings.size()));
        const auto& left = isFitting ? whole->withoutFitting[i] : whole->withoutEarphone[i - all.fittings.size()];
        const auto again = posteriorOf(less, FitDepth::result)->all;
        CAPTURE(i);
        CHECK(left->mean_dB == Approx(again.mean_dB).margin(0.001).epsilon(0.0));
        CHECK(left->low_dB == Approx(again.low_dB).margin(0.002).epsilon(0.0));
        CHECK(left->u_dB == Approx(again.u_dB).margin(0.001).epsilon(0.0));
    }
}

TEST_CASE("the density on its grid has area one and the mean that is told")
{
    const auto p = posteriorOf(sketchEvidence(), FitDepth::result);
    double area = 0.0, first = 0.0;
    for (std::size_t i = 1; i < p->curve.size(); ++i) {
        const auto &a = p->curve[i - 1], &b = p->curve[i];
        area += 0.5 * (b.c_dB - a.c_dB) * (a.density + b.density);
        first += 0.5 * (b.c_dB - a.c_dB) * (a.c_dB * a.density + b.c_dB * b.density);
    }
    CHECK(area == Approx(1.0).margin(1e-3).epsilon(0.0));
    CHECK(first / area == Approx(p->all.mean_dB).margin(1e-3).epsilon(0.0));
}

TEST_CASE("the arithmetic of the trade holds around a correction")
{
    // Arithmetic of the trade, no source: 114.0 dB through a coupler that takes 1.5 dB stand for 112.5 dB; 90 dB at
    // 50 mV are 116.02 dB for 1 V.
    ReferenceInput reference;
    reference.certifiedLevel_dB = 114.0;
    reference.frequency = Hertz(1000.0);
    reference.correction = Correction{};
    reference.correction->value_dB = 1.5;
    CHECK(offsetFrom(reference)->level_dB == Approx(112.5).margin(1e-9).epsilon(0.0));
    Rating rating;
    rating.form = Rating::Form::atVoltage;
    rating.level_dB = 90.0;
    rating.voltage = Volts(0.05);
    CHECK(*sensitivity_dBPerVolt(rating) == Approx(116.02).margin(0.005).epsilon(0.0));
}

TEST_CASE("means and scatters of a fit keep NIST's certified digits")
{
    // NIST Statistical Reference Datasets, univariate summary statistics.
    for (const auto& row : published::table("nist_strd_univariate_certified").rows) {
        const auto name = row.text("dataset");
        if (name != "Mavro" && name != "Michelso" && name != "NumAcc1")
            continue;
        CAPTURE(name);
        const auto file = name == "Mavro"      ? "nist_mavro_data"
                          : name == "Michelso" ? "nist_michelso_data"
                                               : "nist_numacc1_data";
        std::vector<double> levels;
        for (const auto& line : published::table(file).rows)
            levels.push_back(line.number("x"));
        FitInput input;
        input.fittings = {{"published", readings(levels)}};
        input.through.readings = readings(levels);
        const auto fit = fitCorrection(input);
        REQUIRE(fit);
        CHECK(static_cast<double>(fit->fittings[0].count) == row.number("n"));
        CHECK(fit->fittings[0].mean_dB == Approx(row.number("mean")).epsilon(1e-14));
        CHECK(*fit->fittings[0].scatter_dB == Approx(row.number("stdev")).epsilon(1e-12));
        CHECK(fit->correction_dB() == Approx(0.0).margin(0.001));
    }
}

TEST_CASE("readings set aside and earphones kept aside do not choose")
{
    auto input = smallBench();
    input.earphones = {earphone("P", 1.2), earphone("Q", 1.5)};
    const double before = fitCorrection(input)->correction_dB();
    input.fittings[0].readings.push_back({120.0, "the cable moved", {}, {}, {}});
    input.earphones.push_back(earphone("S", 8.0));
    input.earphones.back().keptAside = true;
    input.earphones.push_back(earphone("T", 9.0));
    input.earphones.back().u_dB.reset();
    const auto fit = fitCorrection(input);
    CHECK(fit->correction_dB() == before);
    CHECK(fit->fittings[0].setAside == 1);
    CHECK(fit->earphones[2].contradicts == true);
    CHECK_FALSE(fit->earphones[2].takesPart);
    CHECK_FALSE(fit->earphones[3].takesPart);
    CHECK_FALSE(fit->earphones[3].contradicts);
    CHECK_FALSE(fit->contradictsItself());
}

TEST_CASE("without the certificate there is a correction and no uncertainty")
{
    auto input = smallBench();
    input.settings.u_calibrator_dB.reset();
    input.earphones = {earphone("P", 1.2)};
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    CHECK_FALSE(fit->hasUncertainty());
    CHECK_FALSE(fit->earphones[0].contradicts);
}

TEST_CASE("a bench's own removable microphone has nothing taken over from another coupler")
{
    auto input = smallBench();
    const double builtIn = width(*fitCorrection(input));
    input.settings.microphoneBuiltIn = false;
    const auto own = fitCorrection(input);
    CHECK(own->evidence.u_fittings_dB == Approx(std::hypot(0.10, 0.075)));
    CHECK(width(*own) < builtIn);
}

TEST_CASE("fittings are told apart where their errors cannot explain the difference")
{
    FitInput input = smallBench();
    input.fittings = {{"a", readings({114.000, 114.010, 114.005})},
                      {"b", readings({114.8, 114.2, 114.5})},
                      {"c", readings({124.000, 124.010, 124.005})},
                      {"d", readings({114.1})}};
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    using Pair = std::pair<std::size_t, std::size_t>;
    CHECK(fit->notToldApart == std::vector<Pair>{{0, 1}});
}
