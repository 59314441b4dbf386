// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Calibrator.h"

#include <algorithm>
#include <cmath>

namespace couplet {

const CertifiedTone& Calibrator::nearest(Hertz frequency) const
{
    const auto octavesAway = [&](const CertifiedTone& tone) { return std::abs(std::log2(tone.frequency / frequency)); };
    return *std::min_element(tones.begin(), tones.end(),
                             [&](const auto& a, const auto& b) { return octavesAway(a) < octavesAway(b); });
}

} // namespace couplet
