// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/ReferenceView.h"
#include "Screens/Measures.h"

// Purpose: from the calibrator's certified level to the offset, line by line, as a card.
// Units:   pixels at scale 1.
// Thread:  message.
namespace couplet {

struct ReferenceSum
{
    Picture picture;
    // Where controls stand: middles of their rows, absent where there is none.
    float calibratorMiddle = 0.0f;
    std::optional<float> levelMiddle, pressureMiddle;
};

// `bottom`: below it stand the controls.
ReferenceSum referenceSumPicture(const ReferenceView&, juce::Point<float> size, float bottom, const Measures&,
                                 const Fonts&);

} // namespace couplet
