// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: what the spectrum's two views show, as values and words: one thing to compare, to draw and to copy.
// Units:   dB SPL or dBFS as `unit` says; Hz.
// Thread:  any but audio.
namespace couplet {

struct SpectrumContent
{
    SpectrumReading spectrum;
    std::string unit;        // "dB SPL" or "dBFS"
    std::string state;       // ", simulated, held"; empty: neither
    std::string why;         // one sentence when there is no spectrum to show
    std::string whyNoOrders; // likewise for the orders alone
    std::optional<Hertz> tone;
    std::optional<double> distortion_percent;
    bool operator==(const SpectrumContent&) const = default;
};

SpectrumContent spectrumContent(const LiveView&);

// "lines: flat-top HFT95, 0.68 s, 5.6 Hz wide, 4 averaged"
std::string linesWords(const SpectrumReading&);
std::string linesWordsInBrief(const SpectrumReading&);
std::string responseWords(const SpectrumReading&);

// The point nearest to a frequency, and the band around it; none where neither reaches.
const SpectrumPoint* pointAt(const SpectrumReading&, double frequency_Hz);
const BandReading* bandAt(const SpectrumReading&, double frequency_Hz);
inline constexpr double halfBand = 1.1220184543019633; // 10^(1/20): from a third octave's middle to its edge

// "line 1000.0 Hz  34.2 dB SPL", "band 1 kHz  40.1 dB SPL", "microphone response taken out"
std::vector<std::string> wordsAt(const SpectrumContent&, double frequency_Hz);

// The tone, which is order 1, and those of its orders that stand out of the noise, as they stand in the curve.
struct OrderMark
{
    int order = 1;
    double frequency_Hz = 0.0, level_dB = 0.0;
};
std::vector<OrderMark> orderMarks(const SpectrumContent&);

// The lowest and the highest level; absent when nothing is to be drawn.
struct LevelExtent
{
    double lowest_dB = 0.0, highest_dB = 0.0;
};
std::optional<LevelExtent> levelExtent(const SpectrumReading&);

std::string percentText(double percent); // with figures enough for -120 dB: "0.08", "0.00010"

// As a table for a spreadsheet: columns parted by tabs, numbers with a hyphen for minus; what is absent is empty.
std::string spectrumTable(const SpectrumContent&);
std::string ordersTable(const SpectrumContent&);

} // namespace couplet
