// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/CorrectionFit.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: a fit in words: what to take off, what decided it, what counts for little and why, and what is odd about the
//          readings.
// Units:   dB, as they are printed: intervals rounded outward at 0.01 dB.
// Thread:  any but audio.
namespace couplet {

struct FitWords
{
    // "Take 1.44 dB off this calibrator: ..."; while the evidence contradicts itself that alone.
    std::string headline;
    std::string interval; // "Between 0.95 and 2.05 dB (95 %)."; or why there is none
    // What decides; what would not show; whether an earphone lies outside its rating; which are not told apart.
    std::vector<std::string> sentences;
    std::vector<std::string> why;   // the statistics behind them
    std::vector<std::string> notes; // what is missing, assumed, set aside or odd
};

// `certified_dB`: the calibrator's level, for the headline.
FitWords wordsOf(const FitInput&, const CorrectionFit&, std::optional<double> certified_dB = {});

// The notes alone.
std::vector<std::string> notesOf(const FitInput&, const CorrectionFit&);

// "the correction is negative: ..."; empty where physics has nothing to say against it.
std::string unlikelyText(const CorrectionFit&);

// "the evidence falls apart: it has peaks at 0.10 and 3.02 dB" or "the evidence contradicts itself: ..."; empty where it
// does neither.
std::string contradictionText(const CorrectionFit&);

// Why there is no uncertainty: the contradiction, or what is missing. Empty where there is one.
std::string whyNoUncertainty(const CorrectionFit&);

// The piece of evidence whose absence would move the result most, "the silicone collar" or "earphone P"; empty when
// none moves it by a quarter of its deviation, and when what it says lies outside the interval.
std::string decidingPiece(const CorrectionFit&);

// "0.95" and "1.86": so that the interval printed holds the interval found.
std::string loweredText(double low_dB);
std::string raisedText(double high_dB);

} // namespace couplet
