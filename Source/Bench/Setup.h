// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Coupler.h"
#include "Library/Earphone.h"
#include "Metrology/Difference.h"
#include "Metrology/Sound.h"

#include <optional>
#include <string>

// Purpose: what is on the bench: the chosen coupler, earphone and drive, as typed or as the library has them.
// Thread:  any but audio.
namespace couplet {

// An offset that was typed instead of kept with a coupler.
struct TypedOffset
{
    double offset_dB = 0.0;
    std::optional<double> U_dB;          // expanded
    std::optional<Hertz> frequency = {}; // that it was found at; absent: not stated
};

struct Setup
{
    std::optional<Coupler> coupler;
    std::optional<TypedOffset> offset; // used when there is no coupler
    std::optional<Earphone> earphone;  // a typed rating is an earphone without a name
    std::string side;                  // "left", "right" or empty
    std::optional<Drive> drive;
    std::optional<Volts> driveFullScale; // given: the drive is sensed on the second channel; `drive` holds the rest
    double largestU_dB = defaultLargestU_dB;
    int channel = 1; // the microphone's, counted from 1
    std::string now; // ISO 8601, for the age of a reference
};

} // namespace couplet
