// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/FitSheet.h"
#include "Bench/ParameterList.h"
#include "Library/Folder.h"

#include <array>
#include <optional>
#include <string>
#include <string_view>

// Purpose: what a session of the host keeps: couplers and earphones by slot, as whole profiles, so that it opens on
//          another computer, the readings of a fit, and the parameters.
// Shapes:  version 1 of its text is a JSON object: kind "session", version, parameters by id, couplers and earphones as
//          the library's files have them, each with its slot (0: chosen by hand). The same session gives the same
//          bytes: names sorted, no time stamps. A fit is there when something of it was written down.
// Errors:  a sentence; a version from a newer Couplet is one, and its text must be kept as it is. A fit that cannot be
//          read is handed back as it came, and all else is there.
// Thread:  any but audio; a value.
namespace couplet {

struct Session
{
    static constexpr std::size_t couplerSlots = 16, earphoneSlots = 32;

    // [0] is what was chosen by hand, from beyond the slots.
    std::array<std::optional<Coupler>, couplerSlots + 1> couplers;
    std::array<std::optional<Earphone>, earphoneSlots + 1> earphones;
    FitSheet fit;
    std::string unreadFit; // one that could not be read, as JSON, while there is no other

    bool operator==(const Session&) const = default;
};

// As a session starts: couplers where the library has given them a slot, earphones by name from slot 1 on.
Session sessionFrom(const Folder::Listing&);

struct SavedSession
{
    Session session;
    ParameterValues parameters{};
    std::string notice = {}; // one sentence where its fit could not be read
};

inline constexpr int sessionVersion = 1;

// A text of more than 4 MB would not be read again: then each coupler has its newest references in it, at most so many,
// or fewer where it must be. The library has all.
inline constexpr std::size_t newestInSession = 1000;

std::string textOf(const SavedSession&);
Outcome<SavedSession> savedSessionFrom(std::string_view text);

} // namespace couplet
