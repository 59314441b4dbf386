// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Fourier.h"
#include "Signal/Sizes.h"

#include <array>
#include <optional>
#include <vector>

// Purpose: a first guess of a tone's frequency from a short spectrum, good to a fraction of a bin; and whether there
//          is a line at all, against the noise around it.
// Source:  Hann window, two-bin interpolation (Harris 1978; from memory).
// Shapes:  `chunks` chunks of samples are loaded; then the spectrum is worked out in pieces.
// Thread:  audio after construction, which allocates.
namespace couplet {

class ToneSearch
{
public:
    explicit ToneSearch(double sampleRate_Hz);

    int chunks() const { return length() / chunkLength; } // the longest power of two within two hops
    void load(int chunk, const std::array<double, chunkLength>&);
    // At most so many butterflies more; true when the strongest line is known.
    bool work(std::size_t butterflies);

    struct Line
    {
        double frequency_Hz = 0.0;
        double power = 0.0; // in the spectrum's own units, to compare two searches by
        bool standsOut = false;
        bool nearMains = false; // within the window's reach of a low order of 50 or 60 Hz
    };
    const Line& strongest() const { return line; }
    double binWidth_Hz() const { return binWidth; }

private:
    int length() const { return static_cast<int>(transform.length()); }
    bool takePowers(std::size_t most);
    void judge();
    bool peaks(int bin) const;
    bool standsOut(int bin);
    bool nearMains(int bin) const;

    Fourier transform;
    double binWidth;
    int lowest, highest;
    std::vector<double> window;
    std::vector<double> power;
    std::vector<double> around;
    std::size_t powersTaken = 0;
    enum class Stage { transforming, powers, judging } stage = Stage::transforming;
    Line line;
};

} // namespace couplet
