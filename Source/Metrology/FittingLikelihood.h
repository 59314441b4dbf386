// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/FitEvidence.h"

#include <array>
#include <cstddef>
#include <vector>

// Purpose: how likely a fitting's say is, given the correction, with its looseness l integrated out. Its own error is,
//          with a probability of 0.8, kappa l times a normal variate, of any sign, never negative ("high") or never
//          positive ("low"); else f times a normal variate, whatever l and the shared sign: an error that its scatter
//          does not tell of. Tabulated once over the distance |says - c|, so that any correction costs an
//          interpolation.
// Source:  model of this product (docs/method.md): l log-uniform within 0.005 to 2 dB, kappa within 0.3 to 8, f within
//          0.1 to 2 dB, on cells; skew normal densities for an error of one sign (normal plus half-normal).
// Units:   dB; natural logarithms.
// Thread:  any but audio.
namespace couplet {

inline constexpr std::size_t kappaCells = 24, loosenessCells = 32, ownCells = 12, signCells = 3;
inline constexpr std::size_t fitStates = kappaCells * signCells; // state = kappa * 3 + sign
enum class ErrorSign : std::size_t { any, high, low };

const std::array<double, kappaCells>& errorsPerScatter(); // kappa, mean of each cell
inline constexpr std::array<double, signCells> signPriors{0.2, 0.4, 0.4};
inline constexpr double tightest_dB = 0.005, loosest_dB = 2.0; // of l
// That a fitting has an error which its scatter does not bound, before any reading: a statement of ignorance, no source.
inline constexpr double ownErrorPrior = 0.2;
inline constexpr double leastOwnError_dB = 0.1, mostOwnError_dB = 2.0; // of f; no source

class FittingLikelihood
{
public:
    // `reach_dB`: the largest distance that will be asked for.
    FittingLikelihood(const FittingEvidence&, double u_through_dB, double reach_dB);

    double says_dB() const { return says; }

    // Adds `factor` times the logarithm of the likelihood at the correction c to each state.
    void addTo(std::array<double, fitStates>& states, double c_dB, double factor) const;

    // Probability, in each state and at the correction c, that the fitting has an error which its scatter does not bound.
    std::array<double, fitStates> ownErrorShares(double c_dB) const;

    static double narrowestOf(const FittingEvidence&, double u_through_dB); // scale below which nothing changes

private:
    // Logarithms at one distance, for one kappa: error of any sign, of the distance's own sign, against it.
    struct Logs
    {
        double any, same, against;
    };
    struct Place
    {
        std::size_t first; // of four points
        std::array<double, 4> weights;
        std::size_t same; // sign of the distance, as a state's
    };
    Place placeOf(double c_dB) const;

    double says, width, spacing;
    std::size_t points;
    std::vector<Logs> table; // kappa by kappa within a point
    std::vector<double> own; // log of prior times likelihood of an error that the scatter does not bound; by point
};

} // namespace couplet
