// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/Offset.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: a coupler's profile: what it is, what it takes away, and every reference ever taken with it.
// Thread:  any but audio.
namespace couplet {

// One row of a microphone's response table.
struct ResponsePoint
{
    Hertz frequency;        // > 0, ascending
    double response_dB = 0; // within -40 to +40

    bool operator==(const ResponsePoint&) const = default;
};

// One reference, complete in itself. Kept, never overwritten; set aside with a reason, never deleted.
struct Reference
{
    std::string takenAt;    // ISO 8601 with zone: "2026-05-03T12:04:11Z"
    double offset_dB = 0.0; // dB SPL at 0 dBFS
    std::vector<Addend> addends;
    Budget budget;
    std::vector<std::string> missing; // what kept the offset from having an uncertainty
    std::string calibrator;           // name, or "typed: 114.02 dB"
    std::optional<int> calibratorClass;
    double tone_dBFS = 0.0;
    Hertz frequency;
    double sampleRate_Hz = 0.0;
    int channel = 1; // counted from 1
    std::optional<Kilopascals> pressure;
    bool fitToUse = true;
    std::string setAside; // the reason; empty: it counts
    std::string source;   // take's file name, "plugin", "simulated bench"
    // What was taken off; absent: nothing was, or an older file that holds it among the addends alone.
    std::optional<Correction> correction = {};
    // It lay so far from the one before, beyond the usual limits, and was kept by an explicit word; absent: it did not.
    std::optional<double> moved_dB = {};

    // The correction in it, 0 without one; absent where nothing is recorded of how its offset came about.
    std::optional<double> takenOff_dB() const;

    bool operator==(const Reference&) const = default;
};

// Older references of a coupler in a file beside its own (HistoryFiles.h).
struct OlderReferences
{
    std::string file; // its name, "coupler-....history"
    std::size_t count = 0;
    std::string from, to; // when its first and its last were taken, ISO 8601

    bool operator==(const OlderReferences&) const = default;
};

struct Coupler
{
    std::string name; // any script, 1 to 120 characters
    std::string kind; // "ear simulator IEC 60318-4", "bare microphone", ...; may be empty
    std::string serial, microphone, input, gainNote;
    std::vector<ResponsePoint> response; // empty: no table
    std::string responseSource;
    std::optional<Correction> correction;
    std::vector<Reference> references;  // oldest first
    std::vector<OlderReferences> older; // as its file has it; empty once those are among the references
    double allowedAge_h = 24.0;         // > 0
    JudgedTerms judged;                 // what stands in the place of this product's assumptions
    int slot = 0;                       // 1 to 16; 0: none
    bool simulated = false;             // belongs to the simulated bench

    // The newest reference that is fit and not set aside.
    const Reference* current() const;
    // The earphone took part in choosing the correction in that reference; absent: not recorded. While that is the
    // coupler's own, the coupler's names count as well: they follow an earphone's new name, a history does not.
    std::optional<bool> wasChosenBy(const std::string& earphone) const;

    bool operator==(const Coupler&) const = default;
};

// Older than its coupler allows, or taken so far in the future that a clock must have been put back: then its age is
// not known.
bool isStale(const Reference&, const Coupler&, std::string_view now);
inline constexpr double clocksDiffer_s = 60.0; // of two computers

// Seconds since `takenAt`; absent when the text is no time.
std::optional<double> ageOf_s(const Reference&, std::string_view now);

// The time now as Reference::takenAt keeps it, UTC.
std::string timeNow();

// R(f), dB, interpolated linearly in log f; absent outside the table.
std::optional<double> responseAt_dB(const std::vector<ResponsePoint>&, Hertz);

} // namespace couplet
