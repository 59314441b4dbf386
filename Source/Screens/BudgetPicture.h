// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/ReferenceView.h"
#include "Screens/Measures.h"

// Purpose: where an offset's uncertainty comes from: as bars, and as a table with how each term was obtained.
// Units:   standard uncertainties in dB, shares of the variance in percent.
// Thread:  message.
namespace couplet {

// In rows, the largest term first; terms beyond the room are counted. Where there is no budget, what it lacks.
Picture budgetBars(const ReferenceView&, juce::Point<float> size, const Measures&, const Fonts&);

struct BudgetTable
{
    Picture picture;
    float height = 0.0f; // that it takes
};
BudgetTable budgetTable(const ReferenceView&, float width, const Measures&, const Fonts&);

} // namespace couplet
