// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Setup.h"
#include "Bench/SpectrumReading.h"
#include "Signal/SpectrumMeter.h"
#include "Signal/ToneEstimate.h"

#include <cstddef>
#include <string>

// Purpose: what was worked out of the samples, together with the bench's offset, response table and tone -> the
//          spectrum as it is shown. With a coupler's reference lines and bands are dB SPL, and where the coupler has a
//          response table that reaches the reference's frequency, R(f) - R(f_cal) is taken out of each line, of each
//          band at its midband, and of each order against the tone; beyond the table there is no level.
// Units:   as in SpectrumReading.
// Errors:  `whyNot` says in a sentence why there is nothing to show.
// Thread:  any but audio.
namespace couplet {

inline constexpr std::size_t spectrumSlices = 480; // of the same ratio, 20 Hz to 20 kHz

SpectrumReading makeSpectrumReading(const SpectrumResult&, const ToneEstimate&, const Setup&);

SpectrumReading noSpectrum(std::string whyNot);

} // namespace couplet
