// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/LinePhasors.h"

#include <cstddef>

namespace couplet {

LineValues linePhasors(const LineTuning& tuning, double samples)
{
    LineValues p;
    const auto family = [&](int first, int orders, double omega) {
        const Phasor one = unitPhasor(omega * samples);
        Phasor power = one;
        for (int line = first; line < first + orders; ++line, power = power * one)
            p.set(static_cast<std::size_t>(line), tuning.omega(line) > 0.0 ? power : Phasor{1.0, 0.0});
    };
    family(0, toneOrders, tuning.tone);
    family(firstMainsLine, mainsOrders, tuning.mains);
    family(firstOtherLine, otherMainsOrders, tuning.otherMains);
    return p;
}

} // namespace couplet
