// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"
#include "Metrology/CorrectionFit.h"

#include <string>
#include <vector>

// Purpose: a fit's correction into a coupler, and onto the earphones that chose it the mark that they did: a verdict
//          from one of these is no proof.
// Units:   dB; the correction's U is 2 u, as budgets take it.
// Thread:  any but audio.
namespace couplet {

// Frequency and calibrator that the correction is for: from the settings, else from the readings that count, where all
// that state one state the same.
struct CorrectionSubject
{
    std::optional<Hertz> frequency;
    std::string calibrator;   // empty: not known
    bool contradicts = false; // readings state another than the settings, or two of them two
};
CorrectionSubject subjectOf(const FitInput&);

// With the calibrator's certificate in its U where the fittings took part. `date` in ISO 8601.
Correction correctionFrom(const FitInput&, const CorrectionFit&, const std::string& date);

// Saves both; answers with what there is to say: earphones that are not in the library and hence bear no mark, a
// reference that was taken with another correction. Earphones that chose an earlier correction and not this one lose
// their mark, once the coupler is saved.
Outcome<std::vector<std::string>> keepCorrection(const Folder&, Coupler, const Correction&, const CorrectionFit&);

} // namespace couplet
