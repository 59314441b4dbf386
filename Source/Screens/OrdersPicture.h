// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Measures.h"
#include "Screens/SpectrumContent.h"

// Purpose: distortion by order: a column for each order with its bar, its frequency, and how far below the tone it lies.
// Units:   dB below the tone, percent of the tone, Hz.
// Thread:  message.
namespace couplet {

Picture ordersPicture(const SpectrumContent&, juce::Point<float> size, const Measures&, const Fonts&);

// The total, on the line of the panel's words.
Picture ordersLegend(const SpectrumContent&, float left, float right, const Measures&, const Fonts&);

} // namespace couplet
