// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/FitView.h"

#include <string>
#include <vector>

// Purpose: what the fit's page says in words. No sentence of that page's state is made anywhere else.
// Units:   dB.
// Thread:  any but audio.
namespace couplet {

struct FitSummary
{
    std::string headline;
    std::vector<std::string> sentences; // each stands whole or not at all
    std::string note;
    bool attention = false; // of the note
    std::string use;        // the button: "Use 1.36 dB in this coupler"
    bool canUse = false;
    bool offersBare = false; // no correction is needed: the reference can be taken with the bare microphone
};

FitSummary fitSummary(const FitView&);

// "in the coupler now: 1.36 ±0.45 dB"; empty when it has none.
std::string storedWords(const FitView&);

// A heading has no number before it.
struct FitParagraph
{
    std::string text;
    bool heading = false;
};
std::vector<FitParagraph> whyParagraphs(const FitView&);
std::vector<FitParagraph> whatIfParagraphs(const FitView&);

// "3 notes"; empty for none.
std::string notesWords(const FitView&);

// The readings that count of where the next one goes.
std::size_t readingsOfTarget(const FitView&);
std::string targetWords(const FitView&); // "silicone collar"; "a new fitting" where there is none yet

const char* captureWords(FitCaptureState); // "waiting", "reading", "lift it off"

} // namespace couplet
