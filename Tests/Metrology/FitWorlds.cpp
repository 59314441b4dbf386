// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/FitWorlds.h"

#include "Metrology/FitBenches.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace couplet::tests {
namespace {

constexpr double throughScatter_dB = 0.05, earphoneU_dB = 0.12, seatingU_dB = 0.05, u_calibrator_dB = 0.075;
constexpr int readingsOfFitting = 4, readingsThrough = 5;

struct Bench
{
    FitInput input;
    double truth_dB = 0.0;
};

class WorldDraw
{
public:
    explicit WorldDraw(std::uint64_t seed) : draw(seed) {}

    Bench bench(const World& world)
    {
        Bench b;
        b.truth_dB = draw.uniform(0.3, 2.5);
        const auto loose = loosenesses(world);
        const auto own = ownErrors(world, loose);
        // What all fittings share, and the calibrator when it is as certified.
        const bool isOff = world.calibratorOff_dB > 0.0;
        const double shared =
            std::hypot(0.15, 0.10, isOff ? 0.0 : u_calibrator_dB) * draw.normal() + sign() * world.calibratorOff_dB;
        auto& input = b.input;
        input.settings.u_calibrator_dB = u_calibrator_dB;
        input.settings.u_seating_dB = seatingU_dB;
        for (int i = 0; i < readingsThrough; ++i)
            input.through.readings.push_back({113.0 + throughScatter_dB * draw.normal(), {}, {}, {}, {}});
        for (std::size_t g = 0; g < loose.size(); ++g) {
            FitGroup group;
            group.name = fmt::format("fitting {}", g + 1);
            for (int i = 0; i < readingsOfFitting; ++i)
                group.readings.push_back(
                    {113.0 + b.truth_dB + shared + own[g] + loose[g] * draw.normal(), {}, {}, {}, {}});
            input.fittings.push_back(group);
        }
        addEarphones(b, world);
        return b;
    }

private:
    double sign() { return draw.uniform(0.0, 1.0) < 0.5 ? -1.0 : 1.0; }

    std::vector<double> loosenesses(const World& world)
    {
        auto loose = world.looseness_dB;
        while (static_cast<int>(loose.size()) < world.fittings)
            loose.push_back(draw.logUniform(world.tightest_dB, world.loosest_dB));
        for (std::size_t i = loose.size(); i > 1; --i) // shuffled
            std::swap(loose[i - 1], loose[static_cast<std::size_t>(draw.uniform(0.0, static_cast<double>(i)))]);
        return loose;
    }

    // Normal variates of any sign, all up or all down.
    std::vector<double> ofSharedSign(std::size_t count)
    {
        std::vector<double> z(count);
        const double which = draw.uniform(0.0, 1.0);
        for (auto& each : z) {
            each = draw.normal();
            if (which >= 0.2)
                each = which >= 0.6 ? -std::abs(each) : std::abs(each);
        }
        return z;
    }

    std::vector<double> ownErrors(const World& world, const std::vector<double>& loose)
    {
        auto own = ofSharedSign(loose.size());
        const auto byScatter = [&](double kappa) {
            for (std::size_t g = 0; g < own.size(); ++g)
                own[g] *= kappa * loose[g];
        };
        switch (world.own) {
        case World::Own::assumed:
            byScatter(draw.logUniform(0.3, 8.0));
            break;
        case World::Own::tightest: {
            byScatter(draw.logUniform(1.0, 4.0));
            const auto at = std::min_element(loose.begin(), loose.end()) - loose.begin();
            own[static_cast<std::size_t>(at)] = sign() * world.own_dB;
            break;
        }
        case World::Own::unrelated:
            for (auto& each : own)
                each *= world.own_dB;
            break;
        case World::Own::alike:
            std::fill(own.begin(), own.end(), sign() * world.own_dB);
            break;
        }
        return own;
    }

    // How far the earphone lies from its rating.
    double deviation(const World& world, int earphone, double a, double maker)
    {
        switch (world.ratings) {
        case World::Ratings::liars:
            return earphone < world.liars ? sign() * world.liarsBy_dB : draw.uniform(-a, a);
        case World::Ratings::liarByTolerance:
            return earphone < world.liars ? sign() * world.liarsBy_dB * a : draw.uniform(-a, a);
        case World::Ratings::allHigh:
            return a * draw.uniform(0.5, 1.0);
        case World::Ratings::normal:
            return a * draw.normal();
        case World::Ratings::oneMaker: // each within its tolerance, most of it common to all
            return a * (0.7 * maker + 0.3 * draw.uniform(-1.0, 1.0));
        case World::Ratings::uniform:
            break;
        }
        return draw.uniform(-a, a);
    }

    void addEarphones(Bench& b, const World& world)
    {
        const double seating = seatingU_dB * draw.normal(), maker = draw.uniform(-1.0, 1.0);
        const double voltmeter = world.voltmeter_dB * draw.normal();
        for (int i = 0; i < world.earphones; ++i) {
            const auto which = draw.uniform(0.0, static_cast<double>(world.tolerances_dB.size()));
            const double a = world.tolerances_dB[static_cast<std::size_t>(which)];
            FitEarphone e;
            e.name = fmt::format("earphone {}", i + 1);
            e.expected_dB = 94.0;
            e.level_dB =
                94.0 + b.truth_dB + deviation(world, i, a, maker) + earphoneU_dB * draw.normal() + seating + voltmeter;
            e.tolerance_dB = a;
            e.u_dB = earphoneU_dB;
            if (world.voltmeterKnownAsShared)
                e.u_shared_dB = world.voltmeter_dB;
            else
                e.u_dB = std::hypot(earphoneU_dB, world.voltmeter_dB);
            b.input.earphones.push_back(e);
        }
    }

    BenchDraw draw;
};

std::size_t tightestOf(const CorrectionFit& fit)
{
    std::size_t tightest = 0;
    for (std::size_t g = 0; g < fit.fittings.size(); ++g)
        if (*fit.fittings[g].scatter_dB < *fit.fittings[tightest].scatter_dB)
            tightest = g;
    return tightest;
}

} // namespace

WorldOutcome outcomeOf(const World& world, int benches, std::uint64_t seed)
{
    WorldDraw draw(seed);
    WorldOutcome o;
    o.title = world.title;
    o.benches = benches;
    std::vector<double> halfWidths;
    double told = 0.0;
    const int first = std::max(world.liars, std::min(1, world.earphones)), others = world.earphones - first;
    for (int i = 0; i < benches; ++i) {
        const auto bench = draw.bench(world);
        const auto made = fitCorrection(bench.input);
        const auto& fit = *made; // every bench has readings
        const auto& all = fit.posterior.all;
        const double covers = all.low_dB <= bench.truth_dB && bench.truth_dB <= all.high_dB ? 1.0 : 0.0;
        o.covered += covers;
        o.error_dB += std::pow(all.mean_dB - bench.truth_dB, 2);
        halfWidths.push_back(all.halfWidth_dB());
        const auto named = [&](int from, int to) {
            return static_cast<double>(std::count_if(fit.earphones.begin() + from, fit.earphones.begin() + to,
                                                     [](const FittedEarphone& e) { return *e.contradicts; }));
        };
        o.liarNamed += first > 0 ? named(0, first) / first : 0.0;
        o.othersNamed += others > 0 ? named(first, world.earphones) / others : 0.0;
        o.tightestNamed += *fit.fittings[tightestOf(fit)].ownError > namedFrom ? 1.0 : 0.0;
        if (fit.contradictsItself())
            o.withheld += 1.0;
        else
            o.coveredTold += covers;
        told += fit.contradictsItself() ? 0.0 : 1.0;
    }
    std::nth_element(halfWidths.begin(), halfWidths.begin() + benches / 2, halfWidths.end());
    o.halfWidth_dB = halfWidths[static_cast<std::size_t>(benches / 2)];
    o.error_dB = std::sqrt(o.error_dB / benches);
    for (double* share : {&o.covered, &o.liarNamed, &o.othersNamed, &o.tightestNamed, &o.withheld})
        *share /= benches;
    o.coveredTold /= std::max(1.0, told);
    return o;
}

std::string headOfOutcomes()
{
    return "| world | n | covered % | half-width dB | rms error dB | liar named % | others named % | tightest told % | "
           "no U % | covered where U is told % |\n|---|---|---|---|---|---|---|---|---|---|";
}

std::string lineOf(const WorldOutcome& o)
{
    return fmt::format("| {} | {} | {:.1f} | {:.2f} | {:.2f} | {:.1f} | {:.1f} | {:.1f} | {:.1f} | {:.1f} |", o.title,
                       o.benches, 100.0 * o.covered, o.halfWidth_dB, o.error_dB, 100.0 * o.liarNamed,
                       100.0 * o.othersNamed, 100.0 * o.tightestNamed, 100.0 * o.withheld, 100.0 * o.coveredTold);
}

} // namespace couplet::tests
