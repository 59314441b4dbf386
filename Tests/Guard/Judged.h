// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "World.h"

#include "Plugin/LoopGuard.h"

#include <cstdint>
#include <map>
#include <string>
#include <vector>

// Purpose: what the guard makes of a simulated loop or of a harmless sound, seen from outside: from what it is given and
//          what it gives. Only how often it asked is its own count.
// Units:   s, counted from the moment at which the microphone's 10 ms level (of a sine of that power) passed -12 dBFS.
// Thread:  one.
namespace couplet::tests {

struct LoopOutcome
{
    bool isLoud = false;  // stands above -12 dBFS for 0.2 s in all, without a guard
    bool wasLoud = false; // likewise, with it
    bool muted = false;
    double silent_s = 0.0;  // after this the output never stood above -12 dBFS again
    double decided_s = 0.0; // the mute
    double output_s = 0.0;  // how long the output stood above -12 dBFS in all
    LoopGuard::Asked asked;
};
LoopOutcome guarded(std::uint64_t seed, bool other, const LoopWish& = {}, std::string* details = nullptr);

struct SoundOutcome
{
    bool muted = false;
    LoopGuard::Asked asked;
    double altered_s = 0.0; // samples that came out changed, but for their sign
};
SoundOutcome guarded(const Sound&);

struct LoopRow
{
    int count = 0, muted = 0, missed = 0, keptQuiet = 0, silentLate = 0, decidedLate = 0; // late: after 0.5 s
    std::vector<double> silent_s, decided_s;
};
struct SoundRow
{
    int count = 0, muted = 0, turned = 0, silenced = 0;
    double altered_s = 0.0, most_s = 0.0;
};

using LoopRows = std::map<std::string, LoopRow>;
using SoundRows = std::map<std::string, SoundRow>;

// `count` loops that are loud without a guard, from that seed on.
LoopRows loopRows(int count, std::uint64_t firstSeed, bool other, bool tells = false); // tells: of those that are late
// So many of each kind. The row named by an empty text holds those with a limit of their own.
SoundRows soundRows(int each, std::uint64_t firstSeed, bool other, bool tells = false);

std::string text(const LoopRows&);
std::string text(const SoundRows&);
LoopRow sum(const LoopRows&);
SoundRow sum(const SoundRows&);

} // namespace couplet::tests
