// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Reading.h"

// Purpose: what a reader of a reading must be told beside its numbers, as sentences added to its notes.
// Thread:  any but audio.
namespace couplet {

// Of the take: what was clipped, was no sound, or broke in.
void noteTake(Reading&);
// Of its tone: where a coupler is like an ear, steadiness, distortion, hum.
void noteTone(Reading&);
// What keeps the level from being judged; once its U is known.
void noteFlaws(Reading&);
// Of the reference in force: its age, and whether it was taken the way this is.
void noteReference(Reading&, const Setup&);

} // namespace couplet
