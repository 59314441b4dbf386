// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Session.h"
#include "Library/Folder.h"
#include "Metrology/CorrectionFit.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

// Purpose: a correction into a coupler and onto the earphones that chose it, in the library and in a session, and both
//          as they were before.
// Units:   dB.
// Errors:  one sentence; what is asked of a coupler that has another correction by now is refused.
// Thread:  any but audio.
namespace couplet {

// A coupler's correction, and which earphones bear the mark that they chose it.
struct CorrectionInForce
{
    std::optional<Correction> correction;
    std::vector<std::string> earphones;

    bool operator==(const CorrectionInForce&) const = default;
};

// Of all that is there by that name.
CorrectionInForce inForce(const Session&, const std::string& coupler);
CorrectionInForce inForce(const Folder::Listing&, const std::string& coupler);
void putInForce(Session&, const std::string& coupler, const CorrectionInForce&);
Outcome<Done> putInForce(const Folder&, const std::string& coupler, const CorrectionInForce&);

// What is asked for: a fit's correction, none at all, or what was before.
struct FitUse
{
    std::string coupler;
    bool simulated = false;
    std::optional<Correction> correction;     // absent: none from now on
    std::shared_ptr<const CorrectionFit> fit; // that the correction is from; null: none
    // To undo one: what to put back, and what is in force until then.
    std::optional<CorrectionInForce> sessionBefore, libraryBefore;
    std::optional<Correction> usedSince;
};

// What came of it.
struct FitUsed
{
    FitUse asked;
    std::optional<Fault> fault;
    bool overtaken = false; // the coupler has another correction by now
    std::vector<std::string> notes;
    CorrectionInForce sessionBefore, libraryBefore;
};

// The library's part. `inSession`: the session's copy, for a library that has none.
FitUsed usedInLibrary(const Folder&, const FitUse&, const std::optional<Coupler>& inSession);
// The session's part, after the library's went well. What was used is taken back only where it still is.
void useInSession(Session&, FitUsed&);

} // namespace couplet
