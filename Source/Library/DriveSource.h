// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Units.h"

#include <optional>
#include <string>

// Purpose: an input that senses the drive, or an output that makes it.
// Thread:  any but audio.
namespace couplet {

struct DriveSource
{
    std::string name;
    std::optional<Volts> fullScale;       // RMS of a full-scale sine
    std::optional<Ohms> source;           // internal impedance
    std::optional<Percent> meterAccuracy; // of the reading that taught the full scale

    bool operator==(const DriveSource&) const = default;
};

} // namespace couplet
