// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/FitPosterior.h"

#include "Metrology/EarphoneLikelihood.h"
#include "Metrology/FitGrid.h"
#include "Metrology/FittingLikelihood.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace couplet {
namespace {

using Logs = std::vector<double>;
using States = std::array<double, fitStates>;

constexpr double reach_dB = 80.0; // five of the largest deviations that the priors have room for
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
        for (const auto& e : evidence.earphones) {
            heard.emplace_back();
            heard.back().reserve(grid.size());
            for (const double c : grid.points())
                heard.back().push_back(logLikelihood(e, c));
        }
        sumStates();
        logBare = fittingsWithout(nullptr);
        logFittings = widenFittings(logBare);
        logEarphones = earphonesWithout(evidence.earphones.size());
    }

    FitPosterior result(FitDepth depth) const
    {
        FitPosterior r;
        const Logs logs = sum(logFittings, logEarphones);
        r.all = summaryOf(grid, logs);
        r.curve = curveOf(grid, logs);
        r.peaks_dB = peaksOf(r.curve);
        if (!likelihoods.empty()) {
            r.fittingsBare = summaryOf(grid, logBare);
            r.fittings = summaryOf(grid, logFittings);
        }
        if (!evidence.earphones.empty())
            r.earphones = summaryOf(grid, logEarphones);
        if (depth == FitDepth::each) {
            leaveOut(r);
            tellApart(r);
            judgeEarphones(r);
        }
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
        return logs;
    }

    Logs earphonesWithout(std::size_t left) const
    {
        Logs logs(grid.size(), 0.0);
        if (evidence.earphones.empty() || (left == 0 && evidence.earphones.size() == 1))
            return logs;
        for (std::size_t e = 0; e < evidence.earphones.size(); ++e)
            for (std::size_t i = 0; e != left && i < grid.size(); ++i)
                logs[i] += heard[e][i].both;
        return widenEarphones(logs);
    }

    void leaveOut(FitPosterior& r) const
    {
        const bool alone = evidence.fittings.size() + evidence.earphones.size() == 1;
        for (const auto& likelihood : likelihoods)
            r.withoutFitting.push_back(
                alone ? std::nullopt
                      : std::optional(summaryOf(grid, sum(widenFittings(fittingsWithout(&likelihood)), logEarphones))));
        for (std::size_t e = 0; e < evidence.earphones.size(); ++e)
            r.withoutEarphone.push_back(alone ? std::nullopt
                                              : std::optional(summaryOf(grid, sum(logFittings, earphonesWithout(e)))));
    }

    // Mean over the density, given as logarithms, of what `share` says at each point.
    template <class Share> double averageOver(const Logs& logs, const Share& share) const
    {
        const double top = *std::max_element(logs.begin(), logs.end());
        double whole = 0.0, part = 0.0;
        for (std::size_t i = 0; i < grid.size(); ++i) {
            const double weight = std::exp(logs[i] - top) * grid.weights()[i];
            whole += weight;
            if (weight > 0.0)
                part += weight * share(i);
        }
        return part / whole;
    }

    // A widened product integrates to the same whichever factor is widened: here the fittings', by the earphones' share.
    void judgeEarphones(FitPosterior& r) const
    {
        Logs before = widenEarphones(logFittings);
        for (const auto& logs : heard)
            for (std::size_t i = 0; i < grid.size(); ++i)
                before[i] += logs[i].both;
        for (const auto& logs : heard)
            r.outside.push_back(
                averageOver(before, [&logs](std::size_t i) { return std::exp(logs[i].outside - logs[i].both); }));
        const Logs after = widenEarphones(sum(logFittings, logEarphones));
        for (const auto& e : evidence.aside) {
            Logs with = after;
            for (std::size_t i = 0; i < grid.size(); ++i)
                with[i] += logLikelihood(e, grid.points()[i]).both;
            r.outsideAside.push_back(averageOver(with, [this, &e](std::size_t i) {
                const auto logs = logLikelihood(e, grid.points()[i]);
                return std::exp(logs.outside - logs.both);
            }));
        }
    }

    // Likewise the earphones, so that kappa, sign and each fitting's own error stay apart.
    void tellApart(FitPosterior& r) const
    {
        if (likelihoods.empty())
            return;
        const Logs others = widenFittings(logEarphones);
        double top = -INFINITY;
        for (std::size_t i = 0; i < grid.size(); ++i)
            top = std::max(top, *std::max_element(states[i].begin(), states[i].end()) + others[i]);
        SignShares shares;
        double whole = 0.0, kappas = 0.0;
        r.ownError.assign(likelihoods.size(), 0.0);
        constexpr double unseen = 1e-12;
        for (std::size_t i = 0; i < grid.size(); ++i) {
            States weights{};
            double here = 0.0;
            for (std::size_t state = 0; state < fitStates; ++state) {
                weights[state] = std::exp(states[i][state] + others[i] - top) * grid.weights()[i];
                here += weights[state];
                kappas += weights[state] * errorsPerScatter()[state / signCells];
                const auto sign = static_cast<ErrorSign>(state % signCells);
                (sign == ErrorSign::any    ? shares.any
                 : sign == ErrorSign::high ? shares.high
                                           : shares.low) += weights[state];
            }
            whole += here;
            for (std::size_t g = 0; here > unseen && g < likelihoods.size(); ++g) {
                const States own = likelihoods[g].ownErrorShares(grid.points()[i]);
                r.ownError[g] += std::inner_product(own.begin(), own.end(), weights.begin(), 0.0);
            }
        }
        for (double& share : r.ownError)
            share /= whole;
        r.kappa = kappas / whole;
        r.sign = SignShares{shares.any / whole, shares.high / whole, shares.low / whole};
    }

    const FitEvidence& evidence;
    FitGrid grid;
    StudentWidening widenFittings;
    Widening widenEarphones;
    std::vector<FittingLikelihood> likelihoods;
    std::vector<States> states;
    std::vector<std::vector<EarphoneLogs>> heard; // by earphone and point
    Logs logBare, logFittings, logEarphones;      // fittings before and after what they share
};

} // namespace

std::optional<FitPosterior> posteriorOf(const FitEvidence& evidence, FitDepth depth)
{
    if (evidence.fittings.empty() && evidence.earphones.empty())
        return std::nullopt;
    return Integral(evidence).result(depth);
}

} // namespace couplet
