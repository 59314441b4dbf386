// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/WhatIf.h"

#include "Metrology/CorrectionFit.h"
#include "Metrology/FitPosterior.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

// The smallest number that does it; what more readings do, yet more do not undo.
template <class Suffices> std::optional<std::size_t> fewest(const Suffices& suffices)
{
    if (suffices(std::size_t{0}))
        return 0;
    if (!suffices(mostMoreReadings))
        return std::nullopt;
    std::size_t tooFew = 0, enough = 1;
    while (!suffices(enough)) {
        tooFew = enough;
        enough = std::min(2 * enough, mostMoreReadings);
        if (enough == mostMoreReadings)
            break;
    }
    while (enough - tooFew > 1) {
        const std::size_t middle = (tooFew + enough) / 2;
        (suffices(middle) ? enough : tooFew) = middle;
    }
    return enough;
}

} // namespace

double halfInterval_dB(const FitEvidence& evidence)
{
    const auto posterior = posteriorOf(evidence, FitDepth::result);
    return posterior ? 0.5 * (posterior->all.high_dB - posterior->all.low_dB) : INFINITY;
}

std::optional<std::size_t> readingsOfFittingForU(const FitEvidence& evidence, std::size_t fitting, double wantedU_dB,
                                                 const Stop& stop)
{
    return fewest([&](std::size_t count) {
        auto changed = evidence;
        // Of a single reading the scatter is not known: nothing can be said of more like it.
        if ((count > 0 && changed.fittings[fitting].count < 2) || (stop && stop()))
            return false;
        changed.fittings[fitting].count += count;
        return halfInterval_dB(changed) <= wantedU_dB;
    });
}

std::optional<std::size_t> readingsOfThroughForU(const FitEvidence& evidence, std::size_t throughCount,
                                                 double throughScatter_dB, double wantedU_dB, const Stop& stop)
{
    if (throughCount < 2 || evidence.fittings.empty())
        return std::nullopt;
    return fewest([&](std::size_t count) {
        if (stop && stop())
            return false;
        auto changed = evidence;
        changed.u_through_dB = throughScatter_dB / std::sqrt(static_cast<double>(throughCount + count));
        return halfInterval_dB(changed) <= wantedU_dB;
    });
}

MoreReadings readingsForU(const FitEvidence& evidence, std::size_t throughCount, double throughScatter_dB,
                          double wantedU_dB)
{
    MoreReadings more;
    for (std::size_t i = 0; i < evidence.fittings.size(); ++i)
        more.ofFitting.push_back(readingsOfFittingForU(evidence, i, wantedU_dB));
    more.ofThrough = readingsOfThroughForU(evidence, throughCount, throughScatter_dB, wantedU_dB);
    return more;
}

std::optional<std::size_t> readingsToTellApart(const FittingEvidence& a, const FittingEvidence& b, double kappa)
{
    if (a.count < 2 || b.count < 2)
        return std::nullopt;
    return fewest([&](std::size_t count) {
        auto more = a;
        more.count += count;
        return std::abs(a.says_dB - b.says_dB) > toldApartFrom_dB(more, b, kappa);
    });
}

} // namespace couplet
