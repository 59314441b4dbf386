// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/FitTexts.h"
#include "Screens/Measures.h"
#include "Screens/Picture.h"

// Purpose: the result of a fit in words: headline, as many whole sentences as there is room for, a note.
// Units:   pixels at scale 1.
// Thread:  message.
namespace couplet {

struct FitWordsPicture
{
    Picture picture;
    int sentencesLeftOut = 0;
};

// `tags`: "simulated", "working". Nothing is drawn below `bottom`.
FitWordsPicture fitWordsPicture(const FitSummary&, const std::vector<std::string>& tags, float width, float bottom,
                                const Measures&, const Fonts&);

} // namespace couplet
