// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Setup.h"
#include "Bench/ToneSummary.h"
#include "Metrology/CorrectionFit.h"
#include "Quantities/Outcome.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: what the bench's own reference has to do with a fit: an earphone's reading as if the coupler took nothing
//          away, and a scale on which readings of the calibrator look like its level.
// Units:   dB; V RMS.
// Source:  method of this product. IEC 60268-7 (second-hand) has insertions repeated when two differ by more than 2.5 dB.
// Thread:  any but audio.
namespace couplet {

// dB at 0 dBFS as the coupler's reference has it, with what it took off put back; absent without a reference.
std::optional<double> offsetAsIfBare_dB(const std::optional<Coupler>&);

struct EarphoneReading
{
    double level_dB = 0.0;
    std::optional<double> expected_dB;  // for the drive there was; absent: no rating was given
    std::optional<double> tolerance_dB; // of the rating
    std::optional<double> u_dB;         // of all but the insertion and what is shared; absent: a term is not stated
    double u_insertion_dB = 0.0;        // of a single one, assumed or judged
    double u_seating_dB = 0.0;          // of the reference: shared by all that are read with it
    double u_shared_dB = 0.0;           // by these likewise: the rest of the offset, response table, voltmeter
    bool seatedAnew = false;            // seen to be taken out since the reading before
    std::optional<double> at_s = {};    // time, from any zero
};

// Of the setup's earphone, or of one that is not known. A fault: why it is no reading.
Outcome<EarphoneReading> readEarphone(const ToneSummary&, const Setup&);

// The reason for which an earphone is set aside that was not read yet: its level is its expected one, and says nothing.
inline constexpr const char* notReadYet = "not read yet";

// And one whose insertions are all set aside: its level says nothing either, until one counts again.
inline constexpr const char* everyInsertionAside = "every insertion is set aside";

// An earphone as a fit takes it before it was read: what its rating promises for 1 V at its terminals.
Outcome<FitEarphone> unreadEarphone(const Earphone&);

// Why a reading cannot join an earphone's insertions: they, or its rating, are for a drive, and what the earphone should
// do with this one is not known. Empty: it can.
std::string whyNoInsertion(const FitEarphone&, const EarphoneReading&);

// Joins the insertions that the earphone's level is the mean of; one that was given whole is replaced, but for what the
// reading does not say. The answer is `whyNoInsertion`, and then nothing is changed.
std::string addInsertion(FitEarphone&, const EarphoneReading&);

// After an insertion was added, changed, set aside or let count again: level, expected level and u follow from those that
// count; set aside as `everyInsertionAside` where none does. What counts is how far each is from what was expected of
// it. From three on their scatter is believed, but less than a single one's u promises only when the earphone was seen
// to be taken out between each two of them: one seating read several times scatters by nothing.
void followInsertions(FitEarphone&);

// An older sheet has the levels alone. The rest of its u is what so many insertions leave of it, each as uncertain as
// is assumed, and together not more uncertain than the whole.
void takeInsertions(FitEarphone&, const std::vector<double>& levels_dB);

// There are insertions, and every one is set aside.
bool hasNoInsertionLeft(const FitEarphone&);

// Sets such an earphone aside, unless it is already, and lets it count again when it is such a one no more.
void markInsertions(FitEarphone&);

inline constexpr double insertionsMayDiffer_dB = 2.5;

// How far the insertions that count differ, where that is more than they may; else absent.
std::optional<double> insertionsDiffer_dB(const FitEarphone&);

} // namespace couplet
