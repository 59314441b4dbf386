// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/LineRemover.h"

#include <cstddef>

namespace couplet {

void LineRemover::Line::turnAt(double omega)
{
    step = unitPhasor(omega * chunkLength);
    const Phasor each = unitPhasor(omega);
    Phasor p = unitPhasor(0.5 * omega);
    for (std::size_t i = 0; i < halfChunk; ++i, p = p * each) {
        cosine[i] = p.re;
        sine[i] = p.im;
    }
}

void LineRemover::setTone(Phasor atNextChunk, double omega)
{
    if (!hasTone)
        return;
    toneAt = omega;
    lines[0].now = atNextChunk;
    lines[0].turnAt(omega);
}

void LineRemover::set(const LineSet& from, const LineTuning& tuning, double t)
{
    constant = from.dc;
    count = 0;
    hasTone = from.line[0].re != 0.0 || from.line[0].im != 0.0;
    toneAt = tuning.omega(0);
    for (int which = 0; which < lineCount; ++which) {
        const Phasor amplitude = from.line[static_cast<std::size_t>(which)];
        if (amplitude.re == 0.0 && amplitude.im == 0.0)
            continue;
        const double w = tuning.omega(which);
        Line& line = lines[static_cast<std::size_t>(count++)];
        line.now = amplitude * unitPhasor(w * t);
        line.turnAt(w);
    }
}

void LineRemover::operator()(FoldedChunk& x)
{
    for (double& even : x.even)
        even -= 2.0 * constant;
    for (int i = 0; i < count; ++i) {
        Line& line = lines[static_cast<std::size_t>(i)];
        run->subtract(2.0 * line.now.re, 2.0 * line.now.im, line.cosine.data(), line.sine.data(), x.even.data(),
                      x.odd.data());
        line.now = line.now * line.step;
    }
}

} // namespace couplet
