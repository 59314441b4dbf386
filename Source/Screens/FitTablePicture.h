// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/FitRows.h"
#include "Screens/Measures.h"

// Purpose: the fit's table as pictures: the line of its columns' names, and a row.
// Units:   pixels at scale 1.
// Thread:  message.
namespace couplet {

struct FitColumns
{
    float name, count, mean, scatter, says, without; // left edge of the first, right edges of the others
    static FitColumns within(float width, const Measures&);
};

Picture fitHeadings(float width, const Measures&, const Fonts&);

struct FitRowLook
{
    bool target = false; // the next reading goes there
    bool opened = false, firstOfItsKind = false;
};

Picture fitRowPicture(const FitRowTexts&, const FitRow&, const FitRowLook&, juce::Point<float> size, const Measures&,
                      const Fonts&);

} // namespace couplet
