// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/CorrectionFit.h"
#include "Simulation/Random.h"

#include <cstdint>
#include <optional>
#include <vector>

// Purpose: benches drawn from the model of docs/method.md whose true correction is known, and what the sketch's bench
//          wrote down.
namespace couplet::tests {

// Four fittings, readings through the coupler and earphones P, Q, R, as the scenario has them.
FitEvidence sketchEvidence();

std::vector<FitReading> readings(const std::vector<double>& levels_dB);

// Says `says_dB`, with u 0.12 dB.
FitEarphone earphone(const char* name, double says_dB, double tolerance_dB = 1.0);

// One fitting of four readings, five through the coupler, no earphone; certificate's U 0.15 dB.
FitInput smallBench();

struct DrawnBench
{
    FitEvidence evidence;
    double truth_dB = 0.0;
    double tightest_dB = 0.0; // what the fitting of the smallest scatter says
};

class BenchDraw
{
public:
    explicit BenchDraw(std::uint64_t seed);

    double uniform(double low, double high);
    double logUniform(double low, double high);
    double normal(); // by Box and Muller's transform: its tails do not end

    // Four fittings of four readings, five readings through the coupler, three earphones of tolerance 0.8, 1 and 1 dB.
    // kappa and sign from the priors, unless given: kappa, and errors of one sign, up or down alike.
    DrawnBench bench(std::optional<double> kappaOfOneSign = {});

private:
    SplitMix64 seeds;
    Xoshiro256 random;
};

} // namespace couplet::tests
