// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Measures.h"
#include "Screens/SumContent.h"

// Purpose: draws one side of the Read page into a column.
// Thread:  message.
namespace couplet {

struct SumPicture
{
    Picture picture;
    int notesLeftOut = 0; // for want of room
};

SumPicture sumPicture(const SumContent&, juce::Point<float> size, const Measures&, const Fonts&);

} // namespace couplet
