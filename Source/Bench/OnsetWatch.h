// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Estimate.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: a tone's beginning that overshoots and settles, as a compressor, a limiter or an automatic gain lets it. What
//          settles within a tenth of a second is too short to be seen.
// Shapes:  one Estimate every 50 ms, in order; memory does not grow.
// Units:   dB of the A-weighted hop, which a thump of low frequency does not move; s.
// Source:  method of this product, no source: 20 dB within 0.1 s begin it, 1 dB above what then stays for 1 s is too much,
//          and it falls evenly, by a third at least of it within half of its time.
// Thread:  any but audio (allocates).
namespace couplet {

struct Onset
{
    double overshoot_dB = 0.0, settled_s = 0.0;
};

class OnsetWatch
{
public:
    void add(const Estimate&);
    const std::optional<Onset>& onset() const { return found; } // of the newest beginning

private:
    void judge();

    std::vector<double> levels_dB; // since the tone began; empty: none has
    double before_dB = 1000.0, beforeThat_dB = 1000.0;
    double energy = -1.0, hop_s = 0.05; // energy < 0: not known
    std::optional<Onset> found;
};

// "the level overshot by 4.1 dB at its onset and settled within 0.6 s: ..."
std::string onsetSentence(const Onset&);

} // namespace couplet
