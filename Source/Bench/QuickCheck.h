// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceTaking.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: does the last reference still hold? The calibrator's tone for three seconds against it; nothing is stored.
// Source:  the allowed change is the history's (Metrology/Fitness.h); likely causes: common practice, no source.
// Units:   dB.
// Thread:  any but audio.
namespace couplet {

inline constexpr double quickCheck_s = 3.0;

struct QuickCheck
{
    enum class Verdict { holds, moved, cannotTell };
    Verdict verdict = Verdict::cannotTell;
    std::string sentence;            // "moved by -6.02 dB since ..."
    std::optional<double> change_dB; // of the chain, whatever correction is in force; absent without tone or reference
    std::string correctionNote;      // what another correction than the reference's will do; empty: it is the same
    double allowed_dB = 0.3;
    std::vector<std::string> causes; // likely ones first
    std::string since;               // when the last reference was taken
    std::optional<ReferenceOutcome> outcome;
};

QuickCheck quickCheck(const ToneSummary&, ReferenceSetup);

// The gain step that a change of this size betrays: 6.02 dB and its multiples, 10 dB and its; absent: none within
// 0.1 dB.
std::optional<double> gainStepNear(double change_dB);

} // namespace couplet
