// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/FitEvidence.h"

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

// Purpose: what more readings would do: how many, and of which group, bring the correction's U to a wanted value or
//          tell two fittings apart. More readings are taken to have the mean and the scatter of those that are there.
// Units:   dB.
// Errors:  absent where no number of readings does it: readings make a mean surer, not an error that it repeats.
// Thread:  any but audio; some 20 ms for each case looked at, at most a dozen cases a group.
namespace couplet {

inline constexpr std::size_t mostMoreReadings = 1000;

// Half of the 95.45 % interval, as CorrectionFit has it.
double halfInterval_dB(const FitEvidence&);

struct MoreReadings
{
    std::vector<std::optional<std::size_t>> ofFitting; // in the order of the evidence; 0: it is there already
    std::optional<std::size_t> ofThrough;
};

// `throughCount` and `throughScatter_dB`: of the readings through the coupler; none of them are added when there are
// fewer than two.
MoreReadings readingsForU(const FitEvidence&, std::size_t throughCount, double throughScatter_dB, double wantedU_dB);

// One of these by itself. `stop` is asked between cases: true ends it, and what it answers then means nothing.
using Stop = std::function<bool()>;
std::optional<std::size_t> readingsOfFittingForU(const FitEvidence&, std::size_t fitting, double wantedU_dB,
                                                 const Stop& stop = {});
std::optional<std::size_t> readingsOfThroughForU(const FitEvidence&, std::size_t throughCount, double throughScatter_dB,
                                                 double wantedU_dB, const Stop& stop = {});

// More readings of the first fitting alone that tell it from the second.
std::optional<std::size_t> readingsToTellApart(const FittingEvidence&, const FittingEvidence&, double kappa);

} // namespace couplet
