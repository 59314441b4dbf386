// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Biquad.h"

// Purpose: frequency weightings A and C as digital filters that stay within class 1 at every rate.
// Source:  IEC 61672-1:2013 5.5.7 and Annex E (pole frequencies; second-hand). The low poles by the bilinear
//          transform, each prewarped; the pair at 12 194 Hz by a least-squares fit in power, since the bilinear
//          transform would bend it by 6 dB at 16 kHz and 48 kHz sampling.
// Ranges:  8 to 384 kHz. The fit reaches to 20 kHz or 0.98 Nyquist.
// Thread:  design: any but audio (allocates); running: any.
namespace couplet {

// C = lowPair * highPair; A = C * middlePair. Both 0 dB at 1 kHz.
struct WeightingDesign
{
    BiquadCoefficients lowPair;    // 20.6 Hz twice
    BiquadCoefficients highPair;   // 12 194 Hz twice
    BiquadCoefficients middlePair; // 107.7 Hz and 737.9 Hz

    double gainC(double omega) const { return lowPair.gainAt(omega) * highPair.gainAt(omega); }
    double gainA(double omega) const { return gainC(omega) * middlePair.gainAt(omega); }
};
WeightingDesign designWeighting(double sampleRate_Hz);

// The design goals themselves, dB re 1 kHz.
double weightingA_dB(double frequency_Hz);
double weightingC_dB(double frequency_Hz);

} // namespace couplet
