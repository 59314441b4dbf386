// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceHistory.h"
#include "Screens/Measures.h"

#include <optional>

// Purpose: a coupler's references as a control chart: those that count filled, those set aside hollow, beyond the scale a
//          triangle at its edge; mean and band of 3 s; the selected one ringed.
// Units:   dB SPL at 0 dBFS upward, references in their order to the right; pixels at scale 1.
// Thread:  message.
namespace couplet {

struct ChartRange
{
    double low_dB = -1.0, high_dB = 1.0, step_dB = 0.5;
};
// Of what counts, with the band; what was set aside may widen it to twice that and no further.
ChartRange chartRange(const ReferenceHistory&);

Picture controlChartPicture(const ReferenceHistory&, std::optional<std::size_t> selected, juce::Point<float> size,
                            const Measures&, const Fonts&);

// The reference nearest to that place; absent without any.
std::optional<std::size_t> pointNear(const ReferenceHistory&, float x, juce::Point<float> size, const Measures&);

} // namespace couplet
