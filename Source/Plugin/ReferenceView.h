// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/QuickCheck.h"
#include "Bench/ReferenceCapture.h"
#include "Bench/ReferenceHistory.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

// Purpose: everything that a page for taking a reference shows, as a value, and what such a page may ask for.
// Units:   dB, dBFS, dB SPL at 0 dBFS, s; shares in percent.
// Thread:  message.
namespace couplet {

struct BudgetRow
{
    BudgetTerm term;
    double share_percent = 0.0; // of the variance
};

struct ReferenceView
{
    // Chosen.
    std::string coupler; // empty: none
    bool simulated = false;
    std::vector<std::string> calibrators; // of the library, by name
    std::string calibrator;               // empty: none chosen
    std::vector<double> levels_dB;        // that the calibrator plays at one frequency; more than one: which is asked
    std::optional<double> level_dB;       // the one chosen
    bool needsPressure = false;           // the calibrator follows the static pressure
    std::optional<Kilopascals> pressure;
    std::optional<Correction> correction; // with its origin
    JudgedTerms judged;                   // as set for this coupler; absent ones are assumed

    // The sum: of the tone that sounds, or of the reference in force while none does.
    bool sumIsLive = false;
    std::vector<Addend> toMicrophone; // "certified level, 1 kHz", "static pressure ...", "taken by the coupler"
    std::optional<double> atMicrophone_dB, tone_dBFS, offset_dB;
    std::optional<Expanded> expanded;
    std::vector<BudgetRow> budget;    // empty when something is missing
    std::vector<std::string> missing; // what an uncertainty lacks
    std::optional<double> before_dB;  // the reference before
    std::string beforeAge;            // "2 h"
    std::optional<double> change_dB;

    // Is the tone fit?
    std::string limitsText;    // "class 1 limits", "unknown class: class 2 limits"
    std::vector<Check> checks; // each must pass
    std::vector<Check> warnings;
    bool fit = false;
    std::string whyNot; // one sentence; empty when fit

    // The capture.
    CaptureState state = CaptureState::idle;
    CaptureKind kind = CaptureKind::reference;
    bool handsFree = false;
    int seatingsKept = 0, seatingsWanted = seatingsOffered;
    double progress = 0.0;    // 0 to 1, of this seating
    std::string progressText; // "seating 2 of 3 · 7.0 of 10 s kept"
    std::string notice;       // one sentence: what it waits for, why it began anew or was refused
    int restarts = 0;
    bool canTake = false, canCancel = false, canFinish = false, canUndo = false;
    std::optional<QuickCheck> check;        // the last quick check, until something else is asked for
    std::optional<double> secondLevel_dBFS; // heard, and used with the next reference
    // A result that moved beyond the usual limits waits for a word; until then the reference before stays in force.
    std::optional<double> waits_dB; // by so much; absent: none waits
    std::string waitsText;          // how far it moved, and what to check

    // What came before.
    ReferenceHistory history;
    std::vector<std::string> cannotBeKnown;
    std::vector<std::string> notes; // of the reference that was just taken
    std::string storeNotice;        // it could not be kept in the library, in a sentence

    std::uint64_t revision = 0;
};

class ReferenceControls
{
public:
    virtual ~ReferenceControls() = default;
    virtual void chooseCalibrator(const std::string& name) = 0;
    virtual void chooseCalibratorLevel(std::optional<double> level_dB) = 0;
    virtual void setPressure(std::optional<Kilopascals>) = 0;
    virtual void setSeatings(int count) = 0;             // 1 to 9
    virtual void setJudgedTerms(const JudgedTerms&) = 0; // of the chosen coupler, from the next reference on
    virtual void takeReference() = 0;
    virtual void takeReferenceHandsFree() = 0;
    virtual void hearSecondLevel() = 0;
    virtual void checkReference() = 0; // 3 s; stores nothing
    virtual void cancelReference() = 0;
    virtual void finishSeatings() = 0;     // with those that are kept
    virtual void keepMovedReference() = 0; // the one that waits, although it moved; it bears a mark
    // While it runs the newest seating is dropped; a result that waits is discarded; afterwards the reference just taken
    // is set aside.
    virtual void undoReference() = 0;
    virtual void setReferenceAside(std::size_t index, const std::string& reason) = 0; // of the history; never empty
    virtual void putReferenceBack(std::size_t index) = 0;
};

} // namespace couplet
