// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Session.h"
#include "Library/Folder.h"

#include <cstddef>
#include <optional>
#include <vector>

// Purpose: where a session and the library do not hold the same of a coupler. Sessions carry whole profiles, so that
//          both may have gone on by themselves; nothing is settled here, only asked.
// Rules:   couplers are the same by name; the slot counts for nothing, since a session's slots are its own. One
//          question a profile, whatever number of slots hold it.
// Thread:  any but audio; values.
namespace couplet {

enum class ProfileState {
    notInLibrary,
    libraryWentOn, // the library's is this very coupler with references that the session lacks
    sessionWentOn, // likewise the other way round
    differs
};

struct ProfileQuestion
{
    ProfileState state = ProfileState::notInLibrary;
    Coupler session;
    std::optional<Coupler> library; // absent: not there
    std::vector<int> slots;         // of the session that hold it; 0: chosen by hand
    std::size_t onlyInSession = 0;  // references that the library lacks
    std::size_t onlyInLibrary = 0;  // and the other way round
    bool left = false;              // it was answered by leaving both as they are: shown small
    bool operator==(const ProfileQuestion&) const = default;
};

enum class ProfileAnswer {
    keepSessions, // into the library, the histories of both merged, and from there into the session
    takeLibrarys, // into the session
    leaveBoth
};

// Those of the first history that the second lacks; being set aside or not makes no other reference.
std::size_t countMissing(const std::vector<Reference>& of, const std::vector<Reference>& in);

// The same but for the slot.
bool isSameProfile(const Coupler&, const Coupler&);

// By slot.
std::vector<ProfileQuestion> questionsOf(const Session&, const Folder::Listing&);

} // namespace couplet
