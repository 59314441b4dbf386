// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/FitBenches.h"

#include "Metrology/Repeats.h"

#include <cmath>
#include <numbers>

namespace couplet::tests {

FitEvidence sketchEvidence()
{
    const std::vector<double> through{113.259, 113.289, 113.310, 113.327, 113.365};
    const std::vector<double> direct[] = {{116.110, 116.467, 116.722, 117.180},
                                          {115.294, 115.452, 115.565, 115.769},
                                          {114.891, 114.946, 114.986, 115.057},
                                          {114.653, 114.693, 114.721, 114.772}};
    FitEvidence e;
    const auto behind = *repeatsOf(through);
    for (const auto& readings : direct) {
        const auto fitting = *repeatsOf(readings);
        e.fittings.push_back({fitting.mean - behind.mean, fitting.count, fitting.deviation});
    }
    e.u_through_dB = behind.deviationOfMean();
    e.earphones = {{96.18 - 94.60, 0.8, 0.12}, {93.62 - 92.40, 1.0, 0.12}, {99.71 - 97.85, 1.0, 0.12}};
    e.u_fittings_dB = std::hypot(0.15, 0.10, 0.075); // transfer, adapter, certificate of 0.15 dB
    e.u_earphones_dB = 0.05;
    return e;
}

std::vector<FitReading> readings(const std::vector<double>& levels_dB)
{
    std::vector<FitReading> list;
    list.reserve(levels_dB.size());
    for (const double level : levels_dB)
        list.push_back({level, {}, {}, {}, {}});
    return list;
}

FitEarphone earphone(const char* name, double says_dB, double tolerance_dB)
{
    FitEarphone e;
    e.name = name;
    e.level_dB = 94.0 + says_dB;
    e.expected_dB = 94.0;
    e.tolerance_dB = tolerance_dB;
    e.u_dB = 0.12;
    return e;
}

FitInput smallBench()
{
    FitInput input;
    input.fittings = {{"collar", readings({114.65, 114.69, 114.72, 114.78})}};
    input.through.readings = readings({113.26, 113.29, 113.31, 113.33, 113.36});
    input.settings.u_calibrator_dB = 0.075;
    return input;
}

BenchDraw::BenchDraw(std::uint64_t seed) : seeds(seed), random(seeds) {}

double BenchDraw::uniform(double low, double high)
{
    constexpr double steps = 9007199254740992.0; // 2^53
    const double part = (static_cast<double>(random.next() >> 11u) + 0.5) / steps;
    return low + (high - low) * part;
}

double BenchDraw::logUniform(double low, double high)
{
    return std::exp(uniform(std::log(low), std::log(high)));
}

double BenchDraw::normal()
{
    const double radius = std::sqrt(-2.0 * std::log(uniform(0.0, 1.0)));
    return radius * std::cos(uniform(0.0, 2.0 * std::numbers::pi));
}

DrawnBench BenchDraw::bench(std::optional<double> kappaOfOneSign)
{
    DrawnBench drawn;
    drawn.truth_dB = uniform(0.0, 3.0);
    const double kappa = kappaOfOneSign.value_or(logUniform(0.3, 8.0));
    // Prior of the sign: any 0.2, never negative 0.4, never positive 0.4.
    const double which = kappaOfOneSign ? uniform(0.2, 1.0) : uniform(0.0, 1.0);
    auto& e = drawn.evidence;
    e.u_fittings_dB = std::hypot(0.15, 0.10, 0.075);
    e.u_earphones_dB = 0.05;
    constexpr double throughScatter_dB = 0.04;
    std::vector<double> through;
    through.reserve(5);
    for (int i = 0; i < 5; ++i)
        through.push_back(throughScatter_dB * normal());
    const auto behind = *repeatsOf(through);
    e.u_through_dB = behind.deviationOfMean();
    const double sharedByFittings = e.u_fittings_dB * normal(), sharedByEarphones = e.u_earphones_dB * normal();
    double smallest = INFINITY;
    for (int g = 0; g < 4; ++g) {
        const double l = logUniform(0.005, 2.0);
        double own = kappa * l * normal();
        if (which >= 0.6)
            own = -std::abs(own);
        else if (which >= 0.2)
            own = std::abs(own);
        std::vector<double> direct;
        direct.reserve(4);
        for (int i = 0; i < 4; ++i)
            direct.push_back(drawn.truth_dB + sharedByFittings + own + l * normal());
        const auto fitting = *repeatsOf(direct);
        e.fittings.push_back({fitting.mean - behind.mean, fitting.count, fitting.deviation});
        if (fitting.deviation < smallest) {
            smallest = fitting.deviation;
            drawn.tightest_dB = e.fittings.back().says_dB;
        }
    }
    constexpr double u_dB = 0.12;
    for (const double tolerance : {0.8, 1.0, 1.0})
        e.earphones.push_back(
            {drawn.truth_dB + sharedByEarphones + uniform(-tolerance, tolerance) + u_dB * normal(), tolerance, u_dB});
    return drawn;
}

} // namespace couplet::tests
