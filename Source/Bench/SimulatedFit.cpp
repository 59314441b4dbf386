// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/SimulatedFit.h"

#include "Bench/SimulatedPapers.h"
#include "Metrology/Expanded.h"

#include <initializer_list>

namespace couplet {
namespace {

FitGroup group(const char* name, std::initializer_list<double> levels_dB)
{
    FitGroup g;
    g.name = name;
    for (const double level : levels_dB)
        g.readings.push_back({level, {}, {}, {}, {}});
    return g;
}

} // namespace

FitInput fitOnPaper(const Scenario& s)
{
    constexpr double certificateCoverage = 2.0;
    constexpr double earphoneU_dB = 0.12; // of an earphone's reading and drive
    FitInput input;
    input.fittings = {group("bare adapter", {116.110, 116.467, 116.722, 117.180}),
                      group("paper shim", {115.294, 115.452, 115.565, 115.769}),
                      group("cork sleeve", {114.891, 114.946, 114.986, 115.057}),
                      group("silicone collar", {114.653, 114.693, 114.721, 114.772})};
    input.through = group("", {113.259, 113.289, 113.310, 113.327, 113.365});
    for (std::size_t i = 0; i < s.earphones.size(); ++i) {
        const auto& from = s.earphones[i];
        const auto expected = expectedLevel(earphoneOnPaper(s, i).rating, driveOnPaper(s, i), from.ratedFrequency);
        if (!expected)
            continue;
        FitEarphone e;
        e.name = from.name;
        e.level_dB = rounded_dB(from.left_dBSPL + s.correction_dB);
        e.expected_dB = rounded_dB(expected->level_dB);
        e.tolerance_dB = from.ratedTolerance_dB;
        e.u_dB = earphoneU_dB;
        e.keptAside = from.keptAside;
        input.earphones.push_back(e);
    }
    input.settings.u_calibrator_dB = s.calibrator.certificateU_dB / certificateCoverage;
    input.settings.calibrator = s.calibrator.name;
    input.settings.frequency = s.calibrator.nominal;
    return input;
}

} // namespace couplet
