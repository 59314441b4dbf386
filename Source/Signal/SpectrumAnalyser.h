// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Fourier.h"

#include <cstddef>
#include <span>
#include <vector>

// Purpose: the spectrum of a stream in lines up to 20 kHz: the mean, in power, of the newest eight transforms under a
//          flat-top window, each beginning a quarter of its length after the one before. A sine's highest line has its
//          level; white noise stands in every line with its density times the noise bandwidth.
// Shapes:  blocks of any size; transforms of a power of two nearest to 0.7 s: 32768 samples at 44.1 and 48 kHz.
// Ranges:  sample rate 8 to 384 kHz; samples are finite.
// Source:  Heinzel, Ruediger and Schilling 2002 (averaging of windowed, overlapping transforms).
// Thread:  any but audio: a transform is worked in one go.
namespace couplet {

struct Spectrum
{
    double sampleRate_Hz = 0.0;
    double length_s = 0.0;          // of a transform
    double lineSpacing_Hz = 0.0;    // line k is at k times this
    double noiseBandwidth_Hz = 0.0; // effective, of a line
    int averages = 0;               // transforms averaged; 0: none yet, and no lines
    std::vector<float> powers;      // squared peak amplitude of a sine there, full scale = 1; from line 0
};

class SpectrumAnalyser
{
public:
    static constexpr int mostAverages = 8;
    static constexpr std::size_t overlapParts = 4;

    explicit SpectrumAnalyser(double sampleRate_Hz);

    // True when at least one transform was done.
    bool add(std::span<const float>);
    void restart();

    std::size_t length() const { return window.size(); }
    Spectrum spectrum() const;

private:
    void transform();

    double rate_Hz, spacing_Hz;
    Fourier fourier;
    std::vector<double> window; // scaled so that a line's square is a sine's squared amplitude
    std::vector<float> newest;  // a ring of one length
    std::size_t next = 0;       // its oldest sample
    std::size_t missing = 0;    // samples before the next transform
    std::vector<std::vector<float>> past;
    int done = 0; // transforms since the start; the last is at (done - 1) % mostAverages
};

} // namespace couplet
