// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Estimate.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

// Purpose: what broke into a tone that was there before and after: drop-outs, jumps, knocks; to be named in a reading.
// Shapes:  one Estimate every 50 ms, in order; memory does not grow.
// Units:   s since the stream began.
// Thread:  any but audio.
namespace couplet {

enum class Interruption : std::size_t {
    dropOut, // nothing came: the same sample again and again
    jump,    // the same tone went on with another phase or after a gap: samples were lost, or it was knocked hard
    knock,   // another noise beside the tone
};
inline constexpr std::size_t interruptions = 3;

struct Breaks
{
    struct Kind
    {
        int count = 0;
        double at_s = 0.0, length_s = 0.0; // of the newest; its length is known of a drop-out alone
    };
    std::array<Kind, interruptions> kinds{};

    const Kind& operator[](Interruption i) const { return kinds[static_cast<std::size_t>(i)]; }
    bool any() const { return kinds[0].count + kinds[1].count + kinds[2].count > 0; }
};

class BreakWatch
{
public:
    void add(const Estimate&);
    Breaks breaks() const;

private:
    void close(const Estimate&);

    Breaks found;
    std::int64_t told = -1, heard = 0, heardSamples = 0; // drop-outs; told < 0: nothing heard yet
    double lostAt_s = 0.0, lost_s = 0.0;                 // the newest of them, of about so many s
    Estimate calm;                                       // the newest before the break
    int calmHops = 0;                                    // in a row
    int openHops = 0;                                    // since then; 0: no break
    double opened_s = 0.0;
    bool lost = false, broken = false;
};

// A sentence for each kind that there was. Live, times count back from `now_s`; else from the take's beginning.
std::vector<std::string> breakSentences(const Breaks&, bool live, double now_s);

} // namespace couplet
