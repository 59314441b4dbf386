// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/FitView.h"

#include <cstddef>
#include <optional>
#include <string>

// Purpose: what a form asks about, as it was when it was opened: the table stays usable meanwhile, and another thing may
//          have come into its place.
// Thread:  any but audio.
namespace couplet {

struct FitSubject
{
    bool simulated = false; // of that bench's sheet
    std::string name;       // of the group or the earphone; empty: a fitting that is not made yet, or none is meant
    std::optional<FitReading> reading;
    std::optional<FitInsertion> insertion;

    bool operator==(const FitSubject&) const = default;
};

FitSubject subjectOf(const FitView&); // the sheet alone
FitSubject subjectOf(const FitView&, const FitTarget&);
FitSubject subjectOf(const FitView&, const FitTarget&, std::size_t reading); // or insertion

// What a form says that comes too late.
inline constexpr const char* subjectChanged = "The readings are others by now: leave, and begin again with what is "
                                              "there.";

} // namespace couplet
