// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/FitView.h"
#include "Screens/Measures.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: what the plot of a fit's evidence shows and where: a line an item, below them the density of what remains.
// Units:   dB; pixels at scale 1.
// Thread:  any but audio.
namespace couplet {

struct EvidenceItem
{
    std::string name; // on one line
    bool isEarphone = false, takesPart = true, contradicts = false;
    double says_dB = 0.0;
    std::optional<FitRange> range;
    std::optional<double> without_dB;
};

// Fittings, then earphones; empty without a fit.
std::vector<EvidenceItem> evidenceItems(const FitView&);

struct EvidencePlot
{
    juce::Rectangle<float> area; // of the lines; the density below it
    float pitch = 24.0f;         // of the items
    float base = 0.0f;           // of the density
    float densityHeight = 0.0f;
    bool named = true;      // there is room for the items' names
    float nameSize = 12.0f; // of their letters: none touches the next row's
    double low_dB = 0.0, high_dB = 1.0, step_dB = 1.0;

    // The axis holds the interval of the result, what the items say that count and lie within some widths of it, and
    // their ranges as far as these are no wider than that; what lies outside stands at the edge.
    static EvidencePlot within(const std::vector<EvidenceItem>&, const CorrectionFit&, juce::Point<float> size,
                               const Measures&);

    float x(double c_dB) const;
    float y(std::size_t item) const { return area.getY() + pitch * (static_cast<float>(item) + 0.5f); }
    bool holds(double c_dB) const { return c_dB >= low_dB && c_dB <= high_dB; }
    // The item there; the number of items for the density; absent elsewhere.
    std::optional<std::size_t> itemAt(juce::Point<float>, std::size_t items) const;
};

} // namespace couplet
