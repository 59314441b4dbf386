// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Measures.h"

// Purpose: the tone's level over the last minute, with the expected level dashed across it. Where no tone was heard the
//          line has a gap.
// Shapes:  one point every 250 ms, the newest at the right edge.
// Thread:  message.
namespace couplet {

// The legend stands within `legend`.
Picture trendPicture(const LiveView&, juce::Point<float> size, juce::Range<float> legend, const Measures&,
                     const Fonts&);

// The levels at the bottom and top of the plot, whole multiples of the distance between its lines.
struct TrendRange
{
    double low_dB = 0.0, high_dB = 3.0, step_dB = 1.0;
};
TrendRange trendRange(const LiveView&);

} // namespace couplet
