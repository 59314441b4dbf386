// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/ReferenceView.h"
#include "Screens/Marks.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: what a view of a reference says in words. No text of that page's state is made anywhere else.
// Thread:  any but audio.
namespace couplet {

// The state in a word or two, to be read from a metre away.
struct StateSign
{
    std::string words;
    std::optional<Mark> mark; // its form says as much as the words
    bool runs = false;        // something is under way
};
StateSign stateSign(const ReferenceView&);
bool runs(CaptureState);

// What stands below the sign: why, and what to do.
std::vector<std::string> stateSentences(const ReferenceView&);

// "moved by −6.02 dB" and its like, of a quick check.
StateSign checkSign(const QuickCheck&);
std::string checkSentence(const QuickCheck&);

std::string asSentence(std::string);            // with a capital and a full stop
std::string minuteText(const std::string& iso); // "2026-05-03 12:04", UTC; as it is where it is no time
std::string valueText(const Check&);            // "1000.04 Hz", "81.3 dB"
std::string countedText(std::size_t count, const std::string& noun);
std::string seatingsWords(int count); // "3 seatings"

// Of the sum: "the one before, 22 h ago: +122.00"; what is summed where there is none before.
std::string beforeWords(const ReferenceView&, bool brief = false);
std::string originWords(const ReferenceView&); // of the correction

// Of the history.
std::string historyTitle(const ReferenceHistory&); // "Offset of this coupler, 24 references"
std::string bandWords(const ReferenceHistory&);
std::string driftWords(const ReferenceHistory&);
std::string dueWords(const ReferenceHistory&);
std::string standingWords(const HistoryPoint&); // "in force", "set aside: gain moved", "" for one like any other
std::string pointWords(const HistoryPoint&);    // "2026-05-03 12:04, 121.97 ±0.47"

// Of the budget.
std::string budgetTitle(const ReferenceView&); // "Where the ±0.47 dB comes from"
std::string degreesText(double degrees);       // "5", "4.2", "∞"
std::string shareText(double percent);         // "95 %"
std::string standardText(double u_dB);         // "0.225"

// Everything else that is to be said: of the reference just taken, of the history, of what nobody can know.
std::vector<std::string> remarks(const ReferenceView&);

} // namespace couplet
