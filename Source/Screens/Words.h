// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Marks.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: what a view says in words. No text of a page's state is made anywhere else.
// Thread:  any but audio.
namespace couplet {

// "just now", "12 min ago", "2 h ago", "3 days ago".
std::string ageText(double age_s);

struct MarkedWords
{
    Mark mark = Mark::silent;
    std::string words;
};

// "Referenced 2 h ago".
MarkedWords referenceWords(const LiveView&);
// "offset U = ±0.47 dB (95 %)"; empty when there is nothing to say it of.
std::string offsetWords(const LiveView&);
// Of the offset alone; absent when the reading has none or something it needs is missing.
std::optional<Expanded> offsetUncertainty(const Reading&);

// Whether there is a level to show, and if not, why.
enum class Hearing { level, noTone, noAudio };
Hearing hearing(const LiveView&);
std::string silenceWords(Hearing);                   // "no tone"
std::string silenceReason(Hearing, const LiveView&); // one sentence

std::string oneDecimalText(double); // half away from zero, with a real minus sign: "−90.6"

const char* unitOf(const LiveView&); // "dB SPL" or "dBFS"

// "agrees", "agrees; no proof", "differs", "too uncertain to say", "cannot be judged".
MarkedWords verdictWords(const LiveView&);
// With its bounds: "agrees within ±1.18", "agrees within ±1.18; no proof", "differs beyond ±1.18".
std::string verdictSentence(const LiveView&);

// "earphone S, left".
std::string earphoneWords(const LiveView&);
std::string couplerWords(const LiveView&); // its name, or "no coupler"

std::string weightingWords(FrequencyWeighting); // "Z-weighted"
std::string timeWords(TimeWeighting);           // "Fast"

// Sentences that stand in a bar above the page: what the host or the session does to the reading.
std::vector<std::string> notices(const LiveView&);

} // namespace couplet
