// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"
#include "Screens/Words.h"

#include <string>
#include <utility>
#include <vector>

// Purpose: what a coupler's profile says in words, alone or beside another version of it.
// Thread:  any but audio.
namespace couplet {

// "2026-05-03 12:04 UTC"; a text that is no time stays as it is.
std::string momentText(const std::string& isoTime);

// "referenced 2 h ago", "stale, referenced 3 days ago", "no reference".
MarkedWords referenceWords(const CouplerRow&);

struct DetailLine
{
    std::string label, value;
    bool differs = false; // from the other version
    bool operator==(const DetailLine&) const = default;
};

// Kind, serial, microphone, input and gain, allowed age, correction, history.
std::vector<DetailLine> detailLines(const Coupler&);

// "1.36 dB, ±0.45, fit of 2026-05-03"; "none".
std::string correctionText(const std::optional<Correction>&);
// "121.97 dB ±0.47 (95 %)"; "none".
std::string offsetText(const Coupler&);

// One version beside the other: newest reference, references, offset, correction, response, and what else differs.
std::vector<DetailLine> versionLines(const Coupler&, const Coupler* other);

// "The library has 2 newer references of coupler ‘left bench’."; one line.
std::string questionWords(const ProfileQuestion&);
// In a row: "the library's differs".
std::string shortQuestionWords(const ProfileQuestion&);

// "1 reference", "12 references".
std::string countText(std::size_t count, const std::string& what);

} // namespace couplet
