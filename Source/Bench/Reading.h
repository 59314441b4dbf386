// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Setup.h"
#include "Bench/ToneSummary.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: a reading: what was measured, what was expected, whether they agree, and how each number came about.
// Units:   dB SPL, or dBFS while the coupler has no reference; V RMS.
// Thread:  any but audio.
namespace couplet {

// What a measured level says of the earphone, at its own frequency only.
struct MeasuredSensitivity
{
    std::optional<double> dBSPLPerVolt;      // at the terminals
    std::optional<double> dBSPLPerMilliwatt; // into the rated impedance
    std::optional<Volts> terminalVoltsFor94; // dB SPL
};

struct Reading
{
    ToneSummary tone;
    bool referenced = false;           // measured is dB SPL; else it is the tone's level in dBFS
    std::optional<Figure> measured;    // absent without a tone
    std::optional<Expanded> measuredU; // absent when something needed is missing, or not referenced
    std::optional<Figure> expected;
    std::optional<Expanded> expectedU;
    std::optional<Difference> difference; // absent without both
    std::optional<Verdict> verdict;       // absent: cannot be judged, and the notes say why
    bool tookPartInCorrection = false;    // the earphone chose the reference's correction: agreement is no proof
    MeasuredSensitivity sensitivity;
    std::string coupler, earphone, side;
    std::optional<Drive> drive;
    std::vector<std::string> notes;
    std::vector<std::string> standing; // what holds for every such reading and is no term of its budget, or is assumed
    bool isJudged = false;             // an earphone or a rating was given: a verdict is wanted

    // A flaw of the take keeps its level from being judged.
    bool isUnfit() const;
    // The answer is no: no level, clipped, or a verdict was wanted and it is not 'agrees'.
    bool answersNo() const;
};

Reading makeReading(const ToneSummary&, const Setup&);

// The offset in force, with its budget and what it lacks; absent when the coupler has no reference or none was typed.
std::optional<Figure> offsetInForce(const Setup&);

} // namespace couplet
