// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HalfBand.h"
#include "Signal/ThirdOctave.h"

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

// Purpose: third-octave band levels of a stream, in the time domain: each band's filter runs at the rate, halved or
//          doubled from the stream's, at which it lies where the bilinear transform does it no harm.
// Shapes:  blocks of any size.
// Units:   mean squares, full scale = 1: exponential averages with a time constant of 1 s, free of the bias of their
//          start. Absent until a filter has settled and 1 s has been averaged (2.2 s in all at 20 Hz), and for bands whose
//          upper edge is above 7/15 of the sample rate: the 20 kHz band needs 48 kHz.
// Ranges:  sample rate 8 to 384 kHz; samples are finite.
// Source:  IEC 61260-1:2014, class 1.
// Thread:  any but audio (allocates).
namespace couplet {

using BandPowers = std::array<std::optional<double>, thirdOctaves>;

class ThirdOctaveBank
{
public:
    static constexpr double timeConstant_s = 1.0;

    explicit ThirdOctaveBank(double sampleRate_Hz);

    void add(std::span<const float>);
    void restart();
    BandPowers powers() const;

private:
    struct Band
    {
        std::size_t index = 0;
        std::array<BiquadCoefficients, 3> sections;
        std::array<std::array<double, 2>, 3> states{};
        long settling = 0, heard = 0; // samples
        double sum = 0.0, weight = 0.0;
    };
    struct Stage
    {
        double rate_Hz = 0.0, keep = 0.0;
        std::vector<Band> bands;
    };

    void put(std::size_t index, std::size_t stage);
    static void run(Stage&, const std::vector<double>&);
    static void run(Band&, double keep, const std::vector<double>&);

    std::vector<Stage> stages;   // the first at twice the stream's rate, each further one at half of the one before
    std::vector<Halver> halvers; // behind the stage of the same number
    Doubler doubler;
    std::vector<double> block, twice;
};

} // namespace couplet
