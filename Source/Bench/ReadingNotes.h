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
// What holds for every such reading: an insertion that is assumed, what a drive or a rating is taken for, room pressure.
void noteStanding(Reading&, const Setup&);
// Of the reference in force: its age, whether it was taken the way this is, with which correction, and whether it was
// kept although it had moved. `sampleRate_Hz` is this take's; 0: not known.
void noteReference(std::vector<std::string>& notes, double sampleRate_Hz, const Setup&);

} // namespace couplet
