// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

// Purpose: tails of the normal distribution that do not vanish where doubles end.
// Source:  Abramowitz and Stegun 7.1.23 (asymptotic series), 26.2.
// Thread:  any but audio (a table is made at the first call).
namespace couplet {

// exp(z^2) erfc(z), within 1e-7 of itself. z >= 0, may be infinite.
double scaledErfc(double z);

// The same from a table, within 1e-7, and several times as fast.
double scaledErfcQuick(double z);

// log P(Z > z) for a standard normal variate; any z.
double logUpperTail(double z);

} // namespace couplet
