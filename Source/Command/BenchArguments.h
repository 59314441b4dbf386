// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Setup.h"
#include "Command/Arguments.h"
#include "Library/Folder.h"
#include "Quantities/Outcome.h"

#include <optional>
#include <string>

// Purpose: what the verbs on takes have in common: the library, the coupler or typed offset, the earphone or typed
//          rating, the drive.
// Thread:  any but audio.
namespace couplet {

Folder libraryOf(const Arguments&);

// The microphone's channel, 1 when not given.
Outcome<int> microphoneChannel(const Arguments&);

// --coupler or --offset into a setup.
Outcome<Done> addCoupler(Setup&, const Arguments&, const Folder&);
// --earphone or --rating with what belongs to it.
Outcome<Done> addEarphone(Setup&, const Arguments&, const Folder&);
// --drive or --drive-channel with what belongs to it.
Outcome<Done> addDrive(Setup&, const Arguments&);

// A half-width or an expanded uncertainty: dB, not negative.
Outcome<std::optional<double>> spread(const Arguments&, std::string_view option);

} // namespace couplet
