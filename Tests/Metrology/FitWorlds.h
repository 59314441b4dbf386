// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/CorrectionFit.h"

#include <cstdint>
#include <string>
#include <vector>

// Purpose: benches as they may be, with a correction that is known: none but the first is drawn from the model of
//          docs/method.md. What comes out of many of them.
// Units:   dB.
namespace couplet::tests {

struct World
{
    enum class Own { assumed, tightest, unrelated, alike }; // error of the fittings' own
    enum class Ratings { uniform, liars, liarByTolerance, allHigh, normal, oneMaker };

    std::string title;
    Own own = Own::assumed;
    double own_dB = 0.0; // of the tightest, of all alike, or the deviation of what is unrelated to scatter
    int fittings = 4, earphones = 3;
    std::vector<double> looseness_dB = {}; // of each fitting, in any order; else log-uniform between the two
    double tightest_dB = 0.03, loosest_dB = 0.45;
    double calibratorOff_dB = 0.0; // beyond its certificate, either way
    Ratings ratings = Ratings::uniform;
    int liars = 0;
    double liarsBy_dB = 0.0;                          // or times the tolerance
    std::vector<double> tolerances_dB{0.8, 1.0, 1.2}; // one of these each
    double voltmeter_dB = 0.0;                        // standard deviation of an error of all earphones
    bool voltmeterKnownAsShared = true;               // else it is stated within the u of each
};

struct WorldOutcome
{
    std::string title;
    int benches = 0;
    double covered = 0.0;                      // share of intervals that hold the truth
    double halfWidth_dB = 0.0;                 // median
    double error_dB = 0.0;                     // root mean square, of the mean
    double liarNamed = 0.0, othersNamed = 0.0; // share of the liars, or of the first earphone; of all others
    double tightestNamed = 0.0;                // told to repeat an error that its scatter does not show
    double withheld = 0.0;                     // no U, for the evidence contradicts itself
    double coveredTold = 0.0;                  // of those with a U
};

// Every bench has `u_calibrator` 0.075, and 0.12 dB of each earphone's own.
WorldOutcome outcomeOf(const World&, int benches, std::uint64_t seed);

std::string headOfOutcomes();
std::string lineOf(const WorldOutcome&);

} // namespace couplet::tests
