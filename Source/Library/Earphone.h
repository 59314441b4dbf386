// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/Rating.h"

#include <string>
#include <vector>

// Purpose: an earphone as its maker rates it.
// Thread:  any but audio.
namespace couplet {

struct Earphone
{
    std::string name;
    std::string note;                           // tip, cable, anything
    Rating rating;                              // with its frequency, tolerance and impedance, as printed
    bool keptAside = false;                     // from choosing a correction
    std::vector<std::string> choseCorrectionOf; // couplers whose correction it took part in
    bool simulated = false;

    bool operator==(const Earphone&) const = default;
};

} // namespace couplet
