// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/FitCapture.h"
#include "Bench/FitEarphones.h"
#include "Bench/FitWords.h"
#include "Library/Coupler.h"
#include "Metrology/CorrectionFit.h"
#include "Metrology/WhatIf.h"
#include "Quantities/Units.h"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

// Purpose: everything that a page for finding a coupler's correction shows, as a value, and what such a page may ask
//          for.
// Units:   dB as the readings are: of a fitting and through the coupler with any constant in common, of an earphone as
//          if the coupler took nothing away; s.
// Thread:  message.
namespace couplet {

// Where a reading goes.
enum class FitKind { fitting, through, earphone };

struct FitTarget
{
    FitKind kind = FitKind::fitting;
    std::size_t index = 0; // of the fittings or the earphones; 0 for through
    bool operator==(const FitTarget&) const = default;
};

// How many more readings would tell two fittings apart, that are not told apart now.
struct FitPair
{
    std::size_t first = 0, second = 0;            // fittings
    std::optional<std::size_t> ofFirst, ofSecond; // more readings of that one alone; absent: no number does it
};

struct FitWhatIf
{
    double wantedU_dB = 0.0;
    MoreReadings more;
    std::vector<FitPair> pairs;
};

// What the library's rating promises of an earphone that was not read yet, with the drive on the bench.
struct FitPromise
{
    double expected_dB = 0.0;
    std::string drive; // "62.4 mV"
};

struct FitView
{
    // Chosen.
    std::string coupler; // empty: none
    std::string readOn;  // the coupler that the readings are of, where that is another; empty: no other is known
    bool simulated = false;
    std::vector<std::string> calibrators; // of the library, by name
    std::string calibrator;               // empty: none chosen
    std::optional<double> certified_dB;
    std::vector<std::string> earphones; // of the library, by name, whose rating is complete

    // Read so far, and what follows from it. A fit's fittings are those that have a reading that counts: by name.
    FitInput input;
    std::vector<std::optional<FitPromise>> promises; // of input.earphones; absent: read, or no drive is known
    std::optional<CorrectionFit> fit;                // absent: see whyNot
    FitWords words;                                  // of that fit
    std::string whyNot;                              // one sentence: what is missing first; empty when there is a fit
    bool working = false;                            // the fit shown is of readings that have changed since
    std::optional<FitWhatIf> whatIf;                 // asked for
    bool whatIfWorking = false;                      // asked for, and not worked out yet
    std::optional<Correction> stored;                // the coupler's correction now

    // The capture.
    FitTarget target; // where the next reading goes; need not have one yet
    FitCaptureState capture = FitCaptureState::off;
    std::optional<double> tone_dB; // that sounds now, as a reading would be
    std::string scaleText;         // what captured readings count from: "dBFS + 123.33 dB: as the reference has it"
    double progress = 0.0;         // 0 to 1, of this reading
    std::string captureText;       // "silicone collar · 4 readings"
    std::string captureNotice;     // one sentence: what it waits for, why it began anew
    std::uint64_t kept = 0;        // readings captured since the program began: another one flashes a mark
    std::optional<double> lastKept_dB;

    // What may be done.
    bool canUse = false;
    std::string whyNotUse;   // one sentence; empty when it may be used
    bool canUseNone = false; // the microphone leaves its coupler: no correction is needed, and the coupler has one
    bool canFillFromSimulation = false;
    std::string used; // what came of using it: one sentence each, joined; empty before
    std::string told; // what was done that the table alone does not show: one sentence; empty otherwise
    bool canUndo = false;
    std::string undoText; // "Undo: reading 116.62 dB"
    std::string notice;   // what was asked for last could not be done: one sentence; empty otherwise

    std::uint64_t revision = 0; // another number whenever anything above may have changed
};

// What is typed is answered with a refusal, one sentence, so that it can be mended; empty: it was done.
class FitControls
{
public:
    virtual ~FitControls() = default;
    virtual void chooseFitCalibrator(const std::string& name) = 0; // empty: none, until asked for
    virtual void setMicrophoneBuiltIn(bool) = 0;                   // false: it leaves its coupler
    virtual std::string setFitUncertainties(double u_transfer_dB, double u_adapter_dB) = 0; // 0 to 3 dB each

    virtual std::string addFitting(const std::string& name) = 0; // empty: "fitting 5"; the next reading goes there
    virtual std::string renameFitting(std::size_t index, const std::string& name) = 0;
    virtual void removeFitting(std::size_t index) = 0; // with its readings; undo brings all back
    virtual void chooseFitTarget(const FitTarget&) = 0;
    virtual void nextFitTarget() = 0; // fittings, through, earphones, and round again

    // Of an earphone a reading is one of its insertions; without any it is corrected whole.
    virtual std::string addFitReading(const FitTarget&, double level_dB) = 0; // typed
    virtual std::string changeFitReading(const FitTarget&, std::size_t reading, double level_dB) = 0;
    // Empty reason: it counts again.
    virtual std::string setFitReadingAside(const FitTarget&, std::size_t reading, const std::string& reason) = 0;

    // Typed whole, or one of the library's, whose expected level is for 1 V at its terminals until it is captured: then
    // for the drive on the bench; until it is read it is set aside as `notReadYet`.
    virtual std::string addFitEarphone(const FitEarphone&) = 0;
    virtual void addFitEarphone(const std::string& nameInLibrary) = 0;
    // Name, levels, tolerance and u in place of its own; it was read then. Another level, or another that is
    // expected, replaces its insertions.
    virtual std::string changeFitEarphone(std::size_t index, const FitEarphone&) = 0;
    virtual void removeFitEarphone(std::size_t index) = 0;
    virtual void keepFitEarphoneAside(std::size_t index, bool) = 0; // to prove the correction with
    virtual std::string setFitEarphoneAside(std::size_t index, const std::string& reason) = 0; // empty: it counts again

    virtual void readFitTable(const std::filesystem::path&) = 0; // in place of what is there; undo brings that back
    virtual void clearFit() = 0;                                 // likewise
    // A table likewise; a bare column of levels goes to where the next reading goes, and joins what is there.
    virtual void pasteFitTable(const std::string& text) = 0;

    virtual void captureFitReadings(bool on) = 0; // hands-free
    virtual void takeFitReading() = 0;            // one, now: as soon as the tone is steady; hands-free goes on
    virtual void askWhatIf(std::optional<double> wantedU_dB) = 0; // absent: no more
    virtual void useCorrection() = 0;
    virtual void useNoCorrection() = 0;       // of a microphone that goes bare into the calibrator
    virtual void fillFitFromSimulation() = 0; // what was written down on the simulated bench, while it plays
    virtual void undoFit() = 0;               // the newest change to the readings, and the correction just used
};

} // namespace couplet
