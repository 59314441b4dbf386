// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitDoubts.h"

#include "Bench/FitDeciding.h"
#include "Bench/FitWords.h"
#include "Library/Utf8.h"
#include "Metrology/Expanded.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace couplet {
namespace {

std::string outsideText(const CorrectionFit& fit)
{
    std::vector<std::string> names;
    for (const auto& e : fit.earphones)
        if (e.takesPart && e.contradicts.value_or(false))
            names.push_back(onOneLine(e.name));
    const auto taking = fit.evidence.earphones.size();
    if (names.size() == 1)
        return fmt::format("{} lies outside its rating{}", names.front(),
                           taking == 1 ? "" : fmt::format(", one of {} earphones", taking));
    return fmt::format("{} of {} earphones lie outside their ratings", names.size(), taking);
}

} // namespace

std::string contradictionText(const CorrectionFit& fit)
{
    if (fit.fallsApart()) {
        std::vector<std::string> places;
        for (const double peak_dB : fit.posterior.peaks_dB)
            places.push_back(levelText(peak_dB));
        return fmt::format("the evidence falls apart: it has peaks at {} dB", listed(places));
    }
    if (const auto apart_dB = fit.clash_dB())
        return fmt::format("the evidence contradicts itself: fittings and earphones differ by {} dB",
                           levelText(*apart_dB));
    if (fit.mostLieOutside())
        return fmt::format("the evidence contradicts itself: {}", outsideText(fit));
    return {};
}

std::string remedySentence(const CorrectionFit& fit)
{
    if (fit.fallsApart())
        return "Find the piece that is wrong, and set it aside with the reason.";
    if (fit.clash_dB())
        return "An error that all fittings share, the calibrator or the ratings can do that. A second calibrator or "
               "one "
               "more earphone would tell which.";
    return "Check the ratings, the drive and the reference that the earphones were read with.";
}

std::optional<double> showsFrom_dB(const CorrectionFit& fit)
{
    const auto& p = fit.posterior;
    if (!p.fittingsBare || !p.earphones)
        return std::nullopt;
    return roundedUpward(std::hypot(p.fittingsBare->halfWidth_dB(), p.earphones->halfWidth_dB()), 1);
}

bool isMostlyAssumed(const CorrectionFit& fit)
{
    constexpr double half = 0.5; // no source
    const auto& p = fit.posterior;
    return p.fittingsBare && p.fittingsBare->halfWidth_dB() <= half * p.fittings->halfWidth_dB();
}

std::string hiddenErrorText(const CorrectionFit& fit)
{
    if (!fit.posterior.fittings)
        return "The earphones alone choose: if their ratings all err alike, nothing here shows it. A fitting would "
               "show "
               "it.";
    if (const auto from_dB = showsFrom_dB(fit))
        return fmt::format(
            "An error that all fittings share, or a calibrator beyond its certificate, would show from "
            "{:.1f} dB on. One more earphone, one of closer tolerance or a second calibrator would show a "
            "smaller one.",
            *from_dB);
    if (isMostlyAssumed(fit))
        return "The fittings agree, but all of them can err alike, and so can the calibrator: nothing here would show "
               "it. "
               "More than half of this interval is assumed, not measured. An earphone of rated sensitivity would show "
               "it.";
    return "No earphone takes part: an error that all fittings share, or a calibrator beyond its certificate, would "
           "not "
           "show. An earphone of rated sensitivity would show it.";
}

} // namespace couplet
