// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ToneSummary.h"
#include "Library/Calibrator.h"
#include "Library/Coupler.h"
#include "Metrology/Expanded.h"
#include "Metrology/Fitness.h"
#include "Metrology/Linearity.h"
#include "Quantities/Outcome.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: a reference: the calibrator's tone on the coupler, heard from one seating or several, whether it is fit, and
//          the offset it gives.
// Source:  method of this product; limits from IEC 60942:2017 (see Metrology/Fitness.h).
// Thread:  any but audio.
namespace couplet {

// From a take, the undisturbed stretch must be as long as this.
inline constexpr double shortestReference_s = 5.0;
// A calibrator's level is the mean of so many couplings (IEC 60942:2017, second-hand).
inline constexpr int seatingsOffered = 3;

struct ReferenceSetup
{
    Coupler coupler;                      // may be new, with nothing but a name; its judged terms count
    Calibrator calibrator;                // from the library or typed
    std::optional<Hertz> frequency;       // which of its tones; absent: the one nearest to what is heard
    std::optional<double> level_dB;       // likewise, of two levels at one frequency
    std::optional<Correction> correction; // typed; absent: the coupler's own, if any
    std::optional<Kilopascals> pressure;
    std::optional<ToneSummary> secondLevel; // its other level, after or before the first: the step checks linearity
    double needed_s = shortestReference_s;  // of each undisturbed stretch
    int channel = 1;
    std::string now;    // ISO 8601
    std::string source; // the take's name
};

struct ReferenceOutcome
{
    bool fitToUse = false;
    std::vector<Check> checks;   // of the tone: each must pass; of several seatings, the worst figures
    std::vector<Check> warnings; // last time, the step: a miss warns and the tone is as fit as it was
    ToneSummary tone;            // of several seatings: their mean level and their worst figures
    std::vector<double> seatings_dBFS;
    std::optional<Figure> offset;         // absent without a tone
    std::optional<Expanded> expanded;     // absent when something needed is missing
    std::optional<Correction> correction; // what was taken off
    CertifiedTone certified;              // the calibrator's tone that was believed
    std::optional<LevelStep> step;
    HistoryCheck history; // of the chain: as if the references before it had been taken with this one's correction
    std::optional<double> moved_dB;            // beyond the usual limits, by so much: kept only by an explicit word
    std::optional<double> correctionChange_dB; // what another correction than the last reference's does to the offset
    std::vector<std::string> notes;

    // What joins the coupler's history; only when there is an offset.
    Reference kept(const ReferenceSetup&) const;
};

// A fault when the arithmetic cannot be done at all (a pressure that is needed and missing, a correction for another
// frequency).
Outcome<ReferenceOutcome> takeReference(const ToneSummary&, const ReferenceSetup&);
// One summary a seating, at least one; their scatter becomes the seating term.
Outcome<ReferenceOutcome> takeReference(const std::vector<ToneSummary>& seatings, const ReferenceSetup&);

// What is asked of who wants to keep a reference that has moved: what to look at first. Empty where it has not.
std::string whatToCheck(const ReferenceOutcome&);

// Why an outcome is not fit to use, in a sentence; empty when it is.
std::string whyNotFit(const ReferenceOutcome&);

// The certified tone that is meant. A level that is stated names a certified one and never replaces it: the certified
// level to 0.005 dB, or the whole number nearest to it, as calibrators have it printed on them. Two levels at one frequency are told apart by `level_dB`, else by the last
// reference; a fault when neither can, or when the calibrator has no such tone.
Outcome<CertifiedTone> certifiedTone(const ReferenceSetup&, Hertz heard, double tone_dBFS);

} // namespace couplet
