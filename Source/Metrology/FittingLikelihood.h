// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/FitEvidence.h"

#include <array>
#include <cstddef>
#include <vector>

// Purpose: how likely a fitting's say is, given the correction, with its looseness l integrated out: the error of its
//          own is kappa l times a normal variate, of any sign, never negative ("high") or never positive ("low").
//          Tabulated once over the distance |says - c|, so that any correction costs an interpolation.
// Source:  model of this product (docs/method.md): l log-uniform within 0.005 to 2 dB, kappa within 0.3 to 8, on
//          midpoints of 80 and 40 cells; skew normal densities for an error of one sign (normal plus half-normal).
// Units:   dB; natural logarithms.
// Thread:  any but audio.
namespace couplet {

inline constexpr std::size_t kappaCells = 40, loosenessCells = 80, signCells = 3;
inline constexpr std::size_t fitStates = kappaCells * signCells; // state = kappa * 3 + sign
enum class ErrorSign : std::size_t { any, high, low };

const std::array<double, kappaCells>& errorsPerScatter(); // kappa, the cells' middles
inline constexpr std::array<double, signCells> signPriors{0.2, 0.4, 0.4};
inline constexpr double tightest_dB = 0.005, loosest_dB = 2.0; // of l

class FittingLikelihood
{
public:
    // `reach_dB`: the largest distance that will be asked for.
    FittingLikelihood(const FittingEvidence&, double u_through_dB, double reach_dB);

    double says_dB() const { return says; }
    double narrowest_dB() const { return width; } // scale below which nothing changes

    // Adds `factor` times the logarithm of the likelihood at the correction c to each state.
    void addTo(std::array<double, fitStates>& states, double c_dB, double factor) const;

    static double narrowestOf(const FittingEvidence&, double u_through_dB);

private:
    // Logarithms at one distance, for one kappa: error of any sign, of the distance's own sign, against it.
    struct Logs
    {
        double any, same, against;
    };
    double says, width, spacing;
    std::size_t points;
    std::vector<Logs> table; // kappa by kappa within a point
};

} // namespace couplet
