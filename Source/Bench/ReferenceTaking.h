// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ToneSummary.h"
#include "Library/Calibrator.h"
#include "Library/Coupler.h"
#include "Metrology/Expanded.h"
#include "Metrology/Fitness.h"
#include "Quantities/Outcome.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: a reference: the calibrator's tone on the coupler, whether it is fit, and the offset it gives.
// Source:  method of this product; limits from IEC 60942:2017 (see Metrology/Fitness.h).
// Thread:  any but audio.
namespace couplet {

// From a take, the undisturbed stretch must be as long as this.
inline constexpr double shortestReference_s = 5.0;

struct ReferenceSetup
{
    Coupler coupler;                      // may be new, with nothing but a name
    Calibrator calibrator;                // from the library or typed
    std::optional<Hertz> frequency;       // which of its tones; absent: the one nearest to what is heard
    std::optional<Correction> correction; // typed; absent: the coupler's own, if any
    std::optional<Kilopascals> pressure;
    int channel = 1;
    std::string now;    // ISO 8601
    std::string source; // the take's name
};

struct ReferenceOutcome
{
    bool fitToUse = false;
    std::vector<Check> checks;
    ToneSummary tone;
    std::optional<Figure> offset;         // absent without a tone
    std::optional<Expanded> expanded;     // absent when something needed is missing
    std::optional<Correction> correction; // what was taken off
    CertifiedTone certified;              // the calibrator's tone that was believed
    HistoryCheck history;
    std::vector<std::string> notes;

    // What joins the coupler's history; only when there is an offset.
    Reference kept(const ReferenceSetup&) const;
};

// A fault when the arithmetic cannot be done at all (a pressure that is needed and missing, a correction for another
// frequency).
Outcome<ReferenceOutcome> takeReference(const ToneSummary&, const ReferenceSetup&);

} // namespace couplet
