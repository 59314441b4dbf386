// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/Offset.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: a sound calibrator as its certificate describes it.
// Thread:  any but audio.
namespace couplet {

// One level that the calibrator can play.
struct CertifiedTone
{
    Hertz frequency{1000.0};
    double level_dB = 94.0;     // at 101.325 kPa
    std::optional<double> U_dB; // expanded, from the certificate; absent: none

    bool operator==(const CertifiedTone&) const = default;
};

struct Calibrator
{
    std::string name;
    std::string serial, certificate;    // certificate: number and date as printed
    std::optional<int> calibratorClass; // IEC 60942 class 1 or 2; absent: unknown
    std::vector<CertifiedTone> tones;   // at least one
    PressureLaw pressureLaw;
    std::string due; // ISO 8601 date of the next certificate; may be empty
    bool simulated = false;

    // The certified tone nearest in frequency (in octaves).
    const CertifiedTone& nearest(Hertz) const;

    bool operator==(const Calibrator&) const = default;
};

} // namespace couplet
