// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Dirichlet.h"
#include "Signal/HopSums.h"

// Purpose: how far each line has turned after a time. A family's orders are powers of its first, so three sines and
//          cosines do for all lines.
// Thread:  any, audio included.
namespace couplet {

// e^{j w samples} of each line; 1 for an order that is not there.
LineValues linePhasors(const LineTuning&, double samples);

// What the Dirichlet kernel over so many samples asks for, of each line.
class LineAngles
{
public:
    LineAngles(const LineTuning& of, double samples)
        : tuning(of), half(linePhasors(of, 0.5)), whole(linePhasors(of, 0.5 * samples))
    {
    }
    HalfAngles operator[](int line) const
    {
        const auto i = static_cast<std::size_t>(line);
        return {tuning.omega(line), half.im[i], half.re[i], whole.im[i], whole.re[i]};
    }

private:
    LineTuning tuning;
    LineValues half, whole;
};

} // namespace couplet
