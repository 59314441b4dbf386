// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/CorrectionFit.h"

#include "Metrology/FittingLikelihood.h"
#include "Metrology/Repeats.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

// One reading through the coupler has no scatter: as uncertain as one seating (assumed).
constexpr double uOfOneThrough_dB = 0.05;

// Among those that count, each at its place among all.
template <class Reading> std::vector<Outlier> outliersAmong(const std::vector<Reading>& readings)
{
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < readings.size(); ++i)
        if (readings[i].setAside.empty())
            places.push_back(i);
    auto outliers = outliersOf(levelsThatCount(readings));
    for (auto& outlier : outliers)
        outlier.index = places[outlier.index];
    return outliers;
}

TimeTrend trendAmong(const std::vector<FitReading>& readings)
{
    std::vector<double> times, timed;
    for (const auto& reading : readings)
        if (reading.setAside.empty() && reading.at_s) {
            times.push_back(*reading.at_s);
            timed.push_back(reading.level_dB);
        }
    return timeTrendOf(timed, times);
}

// Absent when every reading is set aside, or there is none.
std::optional<FittedGroup> fittedGroup(const FitGroup& group)
{
    const auto levels = levelsThatCount(group.readings);
    if (levels.empty())
        return std::nullopt;
    FittedGroup fitted;
    fitted.name = group.name;
    fitted.count = levels.size();
    fitted.setAside = group.readings.size() - levels.size();
    fitted.mean_dB = levels.front();
    if (const auto repeats = repeatsOf(levels)) {
        fitted.mean_dB = repeats->mean;
        fitted.scatter_dB = repeats->deviation;
    }
    fitted.outliers = outliersAmong(group.readings);
    fitted.trend = trendAmong(group.readings);
    return fitted;
}

double uOfThrough(const FittedGroup& through)
{
    return through.scatter_dB ? *through.scatter_dB / std::sqrt(static_cast<double>(through.count)) : uOfOneThrough_dB;
}

bool isUncertainty(double u)
{
    return std::isfinite(u) && u >= 0.0;
}

std::optional<Fault> faultOfNumbers(const FitInput& input)
{
    const auto group = [](const FitGroup& g) -> std::optional<Fault> {
        for (const auto& reading : g.readings)
            if (!std::isfinite(reading.level_dB))
                return Fault{fmt::format("a reading of {} is no number; read it again",
                                         g.name.empty() ? "'through'" : couplet::quoted(g.name))};
        return std::nullopt;
    };
    for (const auto& fitting : input.fittings)
        if (auto fault = group(fitting))
            return fault;
    if (auto fault = group(input.through))
        return fault;
    for (const auto& e : input.earphones)
        if (!std::isfinite(e.says_dB()) || !isUncertainty(e.tolerance_dB.value_or(0.0)) ||
            !isUncertainty(e.u_dB.value_or(0.0)) || !isUncertainty(e.u_shared_dB))
            return Fault{fmt::format("the figures of {} are no usable numbers; state levels in dB, tolerance and "
                                     "uncertainty not negative",
                                     couplet::quoted(e.name))};
    const auto& s = input.settings;
    if (!isUncertainty(s.u_transfer_dB) || !isUncertainty(s.u_adapter_dB) || !isUncertainty(s.u_seating_dB) ||
        !isUncertainty(s.u_calibrator_dB.value_or(0.0)))
        return Fault{"an uncertainty of the fit is no usable number; state it in dB, not negative"};
    if (input.fittings.size() > mostFittings || input.earphones.size() > mostFitEarphones)
        return Fault{fmt::format("there are {} fittings and {} earphones, and at most {} and {} are taken; give the "
                                 "readings of one fitting one name",
                                 input.fittings.size(), input.earphones.size(), mostFittings, mostFitEarphones)};
    return std::nullopt;
}

Fault nothingToGoBy(const CorrectionFit& fit)
{
    if (!fit.fittings.empty())
        return Fault{"the fittings have nothing to be held against: there is no reading through the coupler that "
                     "counts, and no earphone; read the same microphone behind the coupler"};
    if (fit.through)
        return Fault{"only readings through the coupler count: nothing says what the calibrator gives without it; read "
                     "the bare microphone in the calibrator, or an earphone of known sensitivity"};
    return Fault{"no reading counts; read the bare microphone in the calibrator, then the same microphone behind the "
                 "coupler"};
}

bool takesPart(const FitEarphone& e)
{
    return !e.keptAside && e.setAside.empty() && e.u_dB && (*e.u_dB > 0.0 || e.tolerance_dB.value_or(0.0) > 0.0);
}

FittedEarphone fittedEarphone(const FitEarphone& e)
{
    FittedEarphone fitted;
    fitted.name = e.name;
    fitted.says_dB = e.says_dB();
    fitted.tolerance_dB = e.tolerance_dB;
    fitted.takesPart = takesPart(e);
    fitted.keptAside = e.keptAside;
    fitted.setAside = e.setAside;
    fitted.outliers = outliersAmong(insertionsForOneDrive(e));
    const double half = e.tolerance_dB.value_or(2.0 * e.u_dB.value_or(0.0));
    if (e.tolerance_dB || e.u_dB)
        fitted.range = FitRange{fitted.says_dB - half, fitted.says_dB + half};
    return fitted;
}

// Evidence of those that take part.
void gather(CorrectionFit& fit, const FitInput& input)
{
    auto& evidence = fit.evidence;
    const auto& s = input.settings;
    evidence.u_fittings_dB =
        std::hypot(s.microphoneBuiltIn ? s.u_transfer_dB : 0.0, s.u_adapter_dB, s.u_calibrator_dB.value_or(0.0));
    if (fit.through)
        evidence.u_through_dB = uOfThrough(*fit.through);
    for (auto& fitting : fit.fittings) {
        if (!fit.through)
            continue;
        fitting.says_dB = fitting.mean_dB - fit.through->mean_dB;
        evidence.fittings.push_back({*fitting.says_dB, fitting.count, fitting.scatter_dB.value_or(0.0)});
        if (fitting.scatter_dB) {
            const double u =
                std::hypot(*fitting.scatter_dB / std::sqrt(static_cast<double>(fitting.count)), evidence.u_through_dB);
            fitting.range = FitRange{*fitting.says_dB - 2.0 * u, *fitting.says_dB + 2.0 * u};
        }
    }
    // What all share is one error, and counts once; where it is known of several, as the largest.
    double u_shared_dB = 0.0;
    for (const auto& e : input.earphones) {
        if (!e.u_dB)
            continue;
        (takesPart(e) ? evidence.earphones : evidence.aside)
            .push_back({e.says_dB(), e.tolerance_dB.value_or(0.0), *e.u_dB});
        if (takesPart(e))
            u_shared_dB = std::max(u_shared_dB, e.u_shared_dB);
    }
    evidence.u_earphones_dB = std::hypot(s.u_seating_dB, u_shared_dB);
    if (!evidence.fittings.empty() && !s.u_calibrator_dB)
        fit.missing.emplace_back("the uncertainty of the calibrator's level is not stated");
}

void judgeEarphones(CorrectionFit& fit, const FitInput& input)
{
    std::size_t part = 0, aside = 0;
    for (std::size_t i = 0; i < fit.earphones.size(); ++i) {
        auto& fitted = fit.earphones[i];
        const bool stated = input.earphones[i].u_dB.has_value();
        fitted.without = fitted.takesPart ? fit.posterior.withoutEarphone[part] : std::optional(fit.posterior.all);
        const double outside = fitted.takesPart ? fit.posterior.outside[part++]
                               : stated         ? fit.posterior.outsideAside[aside++]
                                                : 0.0;
        if (!fitted.without || !stated || !fit.missing.empty())
            continue;
        fitted.outside = outside;
        fitted.contradicts = outside > namedFrom;
    }
}

void compareFittings(CorrectionFit& fit)
{
    if (!fit.posterior.kappa)
        return;
    const auto& fittings = fit.evidence.fittings;
    for (std::size_t a = 0; a < fittings.size(); ++a)
        for (std::size_t b = a + 1; b < fittings.size(); ++b)
            if (fittings[a].count > 1 && fittings[b].count > 1 &&
                std::abs(fittings[a].says_dB - fittings[b].says_dB) <=
                    toldApartFrom_dB(fittings[a], fittings[b], *fit.posterior.kappa))
                fit.notToldApart.emplace_back(a, b);
}

} // namespace

std::optional<double> CorrectionFit::clash_dB() const
{
    const auto &fitted = posterior.fittings, &heard = posterior.earphones;
    if (!fitted || !heard || !missing.empty())
        return std::nullopt;
    const double apart = std::abs(fitted->mean_dB - heard->mean_dB);
    return apart > clashFactor * std::hypot(fitted->u_dB, heard->u_dB) ? std::optional(apart) : std::nullopt;
}

bool CorrectionFit::mostLieOutside() const
{
    const auto outside = std::count_if(earphones.begin(), earphones.end(), [](const FittedEarphone& e) {
        return e.takesPart && e.contradicts.value_or(false);
    });
    return outside > 0 && 2 * static_cast<std::size_t>(outside) >= evidence.earphones.size();
}

std::vector<FitInsertion> insertionsForOneDrive(const FitEarphone& e)
{
    auto insertions = e.insertions;
    for (auto& insertion : insertions)
        if (insertion.expected_dB)
            insertion.level_dB += e.expected_dB - *insertion.expected_dB; // nothing at all where they are the same
    return insertions;
}

double toldApartFrom_dB(const FittingEvidence& a, const FittingEvidence& b, double kappa)
{
    const auto variance = [kappa](const FittingEvidence& f) {
        const double l = std::max(f.scatter_dB, tightest_dB);
        return l * l * (1.0 / static_cast<double>(f.count) + kappa * kappa);
    };
    return 2.0 * std::sqrt(variance(a) + variance(b));
}

Outcome<CorrectionFit> fitCorrection(const FitInput& input)
{
    if (auto fault = faultOfNumbers(input))
        return *fault;
    CorrectionFit fit;
    for (const auto& group : input.fittings)
        if (auto fitted = fittedGroup(group))
            fit.fittings.push_back(*std::move(fitted));
    fit.through = fittedGroup(input.through);
    for (const auto& e : input.earphones)
        fit.earphones.push_back(fittedEarphone(e));
    gather(fit, input);
    auto posterior = posteriorOf(fit.evidence, FitDepth::each);
    if (!posterior)
        return nothingToGoBy(fit);
    fit.posterior = *std::move(posterior);
    for (std::size_t i = 0; i < fit.posterior.withoutFitting.size(); ++i)
        fit.fittings[i].without = fit.posterior.withoutFitting[i];
    for (std::size_t i = 0; i < fit.posterior.ownError.size(); ++i)
        fit.fittings[i].ownError = fit.posterior.ownError[i];
    judgeEarphones(fit, input);
    compareFittings(fit);
    return fit;
}

} // namespace couplet
