// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/FitView.h"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

// Purpose: the rows of the fit's table and what stands in them: fittings, the readings through the coupler, earphones,
//          and below those that are opened their single readings; of an earphone its insertions, below what it is
//          rated.
// Units:   dB, two decimals.
// Thread:  any but audio.
namespace couplet {

struct FitRow
{
    enum class What { fitting, through, earphone, rating, reading };
    What what = What::through;
    FitTarget target;
    std::size_t reading = 0; // of the target, where it is one
    bool operator==(const FitRow&) const = default;
};

// It stands below an opened group.
inline bool isSingle(const FitRow& row)
{
    return row.what == FitRow::What::reading || row.what == FitRow::What::rating;
}

// By kind and name, so that they stay open when others come and go.
using OpenedGroups = std::vector<std::pair<FitKind, std::string>>;

std::vector<FitRow> fitRows(const FitView&, const OpenedGroups&);

// Null where the index is of no group, or of an earphone.
const FitGroup* groupOf(const FitView&, const FitTarget&);
const FitEarphone* earphoneOf(const FitView&, const FitTarget&);
std::string nameOf(const FitView&, const FitTarget&); // on one line; "through the coupler"
bool isOpened(const FitView&, const OpenedGroups&, const FitTarget&);

// What the fit found of it; null where it says nothing, or there is none. By name: the fit shown may be of readings
// that have changed since.
const FittedGroup* fittedOf(const FitView&, const FitTarget&);
const FittedEarphone* fittedEarphoneOf(const FitView&, const FitTarget&);

struct FitRowTexts
{
    std::string name, count, mean, scatter, says, without;
    std::string shortNote;  // where the other has no room
    std::string note;       // of an earphone or a reading, in words: "kept aside", "set aside: slipped"
    bool attention = false; // something is odd
    bool aside = false;     // it does not count
};

FitRowTexts fitRowTexts(const FitView&, const FitRow&);

// For those who listen.
std::string fitRowSpoken(const FitView&, const FitRow&);

// "0:35 min", "2:10:05 h": since the first reading whose time is known. A clock that was put back gives a minus.
std::string sinceFirstText(double since_s);

} // namespace couplet
