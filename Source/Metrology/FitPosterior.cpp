// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/FitPosterior.h"

#include "Metrology/Expanded.h"
#include "Metrology/FitGrid.h"
#include "Metrology/FittingLikelihood.h"
#include "Metrology/ScaledErfc.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

using Logs = std::vector<double>;
using States = std::array<double, fitStates>;

constexpr double reach_dB = 80.0;  // five of the largest deviations that the priors have room for
constexpr double finest_dB = 1e-3; // an earphone's u below this counts as this

double uOf(const EarphoneEvidence& e)
{
    return std::max(e.u_dB, finest_dB);
}

// A rectangle blurred by u; without a tolerance a normal density.
double logLikelihood(const EarphoneEvidence& e, double c_dB)
{
    const double x = std::abs(e.says_dB - c_dB), u = uOf(e), a = e.tolerance_dB;
    if (!(a > 0.0))
        return -0.5 * (x / u) * (x / u) - std::log(u * std::sqrt(2.0 * std::numbers::pi));
    const double beyondNear = logUpperTail((x - a) / u), beyondFar = logUpperTail((x + a) / u);
    return beyondNear + std::log1p(-std::exp(beyondFar - beyondNear)) - std::log(2.0 * a);
}

DensitySummary summaryOf(const FitGrid& grid, const Logs& logs)
{
    const auto& c = grid.points();
    const double top = *std::max_element(logs.begin(), logs.end());
    Logs density(logs.size());
    double whole = 0.0, first = 0.0;
    for (std::size_t i = 0; i < c.size(); ++i) {
        density[i] = std::exp(logs[i] - top);
        whole += density[i] * grid.weights()[i];
        first += c[i] * density[i] * grid.weights()[i];
    }
    DensitySummary s;
    s.mean_dB = first / whole;
    double second = 0.0;
    for (std::size_t i = 0; i < c.size(); ++i)
        second += (c[i] - s.mean_dB) * (c[i] - s.mean_dB) * density[i] * grid.weights()[i];
    s.u_dB = std::sqrt(second / whole);
    const auto quantile = [&](double wanted) {
        double below = 0.0;
        for (std::size_t i = 1; i < c.size(); ++i) {
            const double step = c[i] - c[i - 1], d0 = density[i - 1], d1 = density[i];
            const double part = 0.5 * (d0 + d1) * step;
            if (below + part < wanted * whole) {
                below += part;
                continue;
            }
            // Within the cell the density is a straight line: d0 f + (d1 - d0) f^2 / 2 = left, f from 0 to 1.
            const double left = (wanted * whole - below) / step, slope = d1 - d0;
            const double f = 2.0 * left / (d0 + std::sqrt(std::max(d0 * d0 + 2.0 * slope * left, 0.0)));
            return c[i - 1] + step * std::clamp(f, 0.0, 1.0);
        }
        return c.back();
    };
    s.low_dB = quantile(0.5 * (1.0 - coverageProbability));
    s.high_dB = quantile(0.5 * (1.0 + coverageProbability));
    return s;
}

// Peaks that a reader would see: a twentieth of the highest at least, with a dip of a quarter before the next. No
// source.
std::vector<double> peaksOf(const std::vector<DensityPoint>& curve)
{
    constexpr double least = 0.05, dip = 0.75;
    double top = 0.0;
    for (const auto& point : curve)
        top = std::max(top, point.density);
    std::vector<DensityPoint> peaks;
    double valley = 0.0; // lowest since the last peak
    for (std::size_t i = 0; i < curve.size(); ++i) {
        const double before = i > 0 ? curve[i - 1].density : 0.0;
        const double after = i + 1 < curve.size() ? curve[i + 1].density : 0.0;
        valley = std::min(valley, curve[i].density);
        if (curve[i].density < least * top || curve[i].density < before || curve[i].density <= after)
            continue;
        const bool apart = peaks.empty() || valley < dip * std::min(peaks.back().density, curve[i].density);
        if (apart)
            peaks.push_back(curve[i]);
        else if (curve[i].density > peaks.back().density)
            peaks.back() = curve[i];
        if (apart || peaks.back().c_dB == curve[i].c_dB)
            valley = curve[i].density;
    }
    std::vector<double> places;
    places.reserve(peaks.size());
    for (const auto& peak : peaks)
        places.push_back(peak.c_dB);
    return places;
}

class Integral
{
public:
    explicit Integral(const FitEvidence& given)
        : evidence(given), grid(featuresOf(given), reach_dB), widenFittings(grid, given.u_fittings_dB),
          widenEarphones(grid, given.u_earphones_dB)
    {
        const double span = grid.points().back() - grid.points().front();
        for (const auto& fitting : evidence.fittings)
            likelihoods.emplace_back(fitting, evidence.u_through_dB, span);
        sumStates();
        logFittings = fittingsWithout(nullptr);
        logEarphones = earphonesWithout(evidence.earphones.size());
    }

    FitPosterior result(FitDepth depth) const
    {
        FitPosterior r;
        const Logs logs = sum(logFittings, logEarphones);
        r.all = summaryOf(grid, logs);
        r.curve = curveOf(logs);
        r.peaks_dB = peaksOf(r.curve);
        if (!likelihoods.empty())
            findStates(r);
        if (depth == FitDepth::each)
            leaveOut(r);
        return r;
    }

private:
    static std::vector<Feature> featuresOf(const FitEvidence& evidence)
    {
        std::vector<Feature> features;
        for (const auto& f : evidence.fittings)
            features.push_back({f.says_dB, FittingLikelihood::narrowestOf(f, evidence.u_through_dB)});
        for (const auto& e : evidence.earphones) {
            features.push_back({e.says_dB - e.tolerance_dB, uOf(e)});
            if (e.tolerance_dB > 0.0)
                features.push_back({e.says_dB + e.tolerance_dB, uOf(e)});
        }
        return features;
    }

    static Logs sum(Logs a, const Logs& b)
    {
        for (std::size_t i = 0; i < a.size(); ++i)
            a[i] += b[i];
        return a;
    }

    // At each point and for each kappa and sign: all fittings together, with the priors.
    void sumStates()
    {
        States priors{};
        for (std::size_t state = 0; state < fitStates; ++state)
            priors[state] = std::log(signPriors[state % signCells] / kappaCells);
        if (likelihoods.empty())
            return;
        states.assign(grid.size(), priors);
        for (const auto& likelihood : likelihoods)
            for (std::size_t i = 0; i < grid.size(); ++i)
                likelihood.addTo(states[i], grid.points()[i], 1.0);
    }

    Logs fittingsWithout(const FittingLikelihood* left) const
    {
        Logs logs(grid.size(), 0.0);
        if (likelihoods.empty() || (left != nullptr && likelihoods.size() == 1))
            return logs;
        for (std::size_t i = 0; i < grid.size(); ++i) {
            States here = states[i];
            if (left != nullptr)
                left->addTo(here, grid.points()[i], -1.0);
            logs[i] = logSumOfExponentials(here.data(), here.size());
        }
        return widenFittings(logs);
    }

    Logs earphonesWithout(std::size_t left) const
    {
        Logs logs(grid.size(), 0.0);
        if (evidence.earphones.empty() || (left == 0 && evidence.earphones.size() == 1))
            return logs;
        for (std::size_t e = 0; e < evidence.earphones.size(); ++e)
            for (std::size_t i = 0; e != left && i < grid.size(); ++i)
                logs[i] += logLikelihood(evidence.earphones[e], grid.points()[i]);
        return widenEarphones(logs);
    }

    void leaveOut(FitPosterior& r) const
    {
        const bool alone = evidence.fittings.size() + evidence.earphones.size() == 1;
        for (const auto& likelihood : likelihoods)
            r.withoutFitting.push_back(
                alone ? std::nullopt : std::optional(summaryOf(grid, sum(fittingsWithout(&likelihood), logEarphones))));
        for (std::size_t e = 0; e < evidence.earphones.size(); ++e)
            r.withoutEarphone.push_back(alone ? std::nullopt
                                              : std::optional(summaryOf(grid, sum(logFittings, earphonesWithout(e)))));
    }

    // A widened product integrates to the same whichever factor is widened: here the earphones, so that kappa and sign
    // stay apart.
    void findStates(FitPosterior& r) const
    {
        const Logs others = widenFittings(logEarphones);
        double top = -INFINITY;
        for (std::size_t i = 0; i < grid.size(); ++i)
            top = std::max(top, *std::max_element(states[i].begin(), states[i].end()) + others[i]);
        SignShares shares;
        double whole = 0.0, kappas = 0.0;
        for (std::size_t i = 0; i < grid.size(); ++i)
            for (std::size_t state = 0; state < fitStates; ++state) {
                const double weight = std::exp(states[i][state] + others[i] - top) * grid.weights()[i];
                whole += weight;
                kappas += weight * errorsPerScatter()[state / signCells];
                const auto sign = static_cast<ErrorSign>(state % signCells);
                (sign == ErrorSign::any ? shares.any : sign == ErrorSign::high ? shares.high : shares.low) += weight;
            }
        r.kappa = kappas / whole;
        r.sign = SignShares{shares.any / whole, shares.high / whole, shares.low / whole};
    }

    std::vector<DensityPoint> curveOf(const Logs& logs) const
    {
        const double top = *std::max_element(logs.begin(), logs.end());
        double whole = 0.0;
        for (std::size_t i = 0; i < grid.size(); ++i)
            whole += std::exp(logs[i] - top) * grid.weights()[i];
        constexpr double unseen = 1e-4;
        std::vector<DensityPoint> curve;
        for (std::size_t i = 0; i < grid.size(); ++i)
            if (const double height = std::exp(logs[i] - top); height > unseen)
                curve.push_back({grid.points()[i], height / whole});
        return curve;
    }

    const FitEvidence& evidence;
    FitGrid grid;
    Widening widenFittings, widenEarphones;
    std::vector<FittingLikelihood> likelihoods;
    std::vector<States> states;
    Logs logFittings, logEarphones;
};

} // namespace

std::optional<FitPosterior> posteriorOf(const FitEvidence& evidence, FitDepth depth)
{
    if (evidence.fittings.empty() && evidence.earphones.empty())
        return std::nullopt;
    return Integral(evidence).result(depth);
}

} // namespace couplet
