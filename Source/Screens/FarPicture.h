// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Picture.h"

// Purpose: the measured level, to be read from metres away: the number fills the window, with one decimal; its unit and
//          the verdict large below it, the coupler's name small.
// Thread:  message.
namespace couplet {

Picture farPicture(const LiveView&, juce::Point<float> size, const Fonts&);

} // namespace couplet
