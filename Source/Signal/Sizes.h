// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>

// Purpose: the grid in time and in frequency that every estimate lives on.
// Units:   samples; angular frequencies in rad/sample.
// Thread:  any (constants).
namespace couplet {

// Samples are worked on in whole chunks counted from the start of the stream, so that the host's blocks cannot
// matter; 32 fills four two-wide registers a fold and divides every hop below.
inline constexpr int chunkLength = 32;
inline constexpr int halfChunk = chunkLength / 2;

// One estimate every 50 ms. A hop is a whole number of chunks: 2400 samples at 48 kHz, 2208 (50.07 ms) at 44.1 kHz.
inline int chunksPerHop(double sampleRate_Hz)
{
    return static_cast<int>(std::lround(0.05 * sampleRate_Hz / chunkLength));
}
inline int hopLength(double sampleRate_Hz)
{
    return chunkLength * chunksPerHop(sampleRate_Hz);
}

// Rates a stream may have. Below 8 kHz no broadband level is of use; above 384 kHz no converter is.
inline constexpr double lowestRate_Hz = 8000.0;
inline constexpr double highestRate_Hz = 384000.0;

// Lines that are estimated together: the tone and its harmonics, the mains and its harmonics, and the first orders of
// the mains family that is not believed in, to find out when it should be. They are numbered in this order.
inline constexpr int toneOrders = 10;
inline constexpr int mainsOrders = 10;
inline constexpr int otherMainsOrders = 3;
inline constexpr int firstMainsLine = toneOrders;
inline constexpr int firstOtherLine = toneOrders + mainsOrders;
inline constexpr int lineCount = toneOrders + mainsOrders + otherMainsOrders;
inline constexpr int mostUnknowns = lineCount + 1; // of one system of equations: the constant and the cosines

// One column a line, and one more for the tone's first moment; lines lie side by side, four to a register.
inline constexpr int columns = lineCount + 1;
inline constexpr int momentColumn = lineCount;
inline constexpr int vectorBytes = 32;
static_assert(columns * sizeof(double) % vectorBytes == 0);

// Orders at or above this share of the Nyquist frequency are not there.
inline constexpr double highestShareOfNyquist = 0.98;

// What a wobbling tone's power is told in, within a hop: some 10 ms.
inline constexpr int partsOfHop = 5;

// Past chunks that are summed again with each one that comes, at most: some 15 us.
inline constexpr int chunksAtOnce = 48;

// Below this two hops are needed where one does for other tones.
inline constexpr double lowTone_Hz = 60.0;

inline constexpr double pi = 3.14159265358979323846;

} // namespace couplet
