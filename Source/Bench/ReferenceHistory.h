// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Calibrator.h"
#include "Library/Coupler.h"
#include "Metrology/ControlChart.h"
#include "Quantities/Outcome.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: a coupler's references as a control chart and as a table: which count, how old the last one is, when the next
//          is due, and what of the present nobody can know from them.
// Units:   dB, s, Hz.
// Thread:  any but audio.
namespace couplet {

struct HistoryPoint
{
    std::string takenAt; // ISO 8601
    double offset_dB = 0.0;
    std::optional<double> U_dB; // expanded; absent: it has none
    double tone_dBFS = 0.0;
    std::string calibrator, source;
    bool fitToUse = true;
    std::string setAside;  // the reason; empty: it was not
    bool current = false;  // the one in force
    double chain_dB = 0.0; // the offset as if taken with the correction of the one in force: what the chart judges
    std::optional<double> correction_dB; // that is in it; absent: not recorded
    std::optional<double> moved_dB;      // kept although it had moved so far from the one before
    bool beforeStep = false;             // of another state of the chain, before the newest such step
    bool outside = false;                // of the control limits

    bool counts() const { return fitToUse && setAside.empty(); }
    bool operator==(const HistoryPoint&) const = default;
};

struct ReferenceHistory
{
    std::vector<HistoryPoint> points; // oldest first, none left out
    ControlChart chart;               // its points are these, in the same order
    std::optional<double> age_s;      // of the current one; absent without one
    bool stale = false;               // older than its coupler allows
    std::string due;                  // ISO 8601: when the current one turns stale; empty without one
    std::string dueText;              // for a person: "due in 3 h", "stale for 2 days"
    std::vector<std::string> notes;   // drift, what was set aside
};

ReferenceHistory historyOf(const Coupler&, const std::string& now);

// Sets the reference aside that was taken at `takenAt` (of several at that time the newest that counts), or with an
// empty reason puts it back. A fault when there is none, when it is as wanted already, or when the reason is too long.
Outcome<Done> setAside(Coupler&, const std::string& takenAt, const std::string& reason);
// The same by its place in the history, from 0.
Outcome<Done> setAside(Coupler&, std::size_t index, const std::string& reason);

// The bench as it is now, as far as it is known.
struct BenchNow
{
    double sampleRate_Hz = 0.0; // 0: not known
    int channel = 1;
    std::string today; // ISO 8601
};

// In sentences: what has changed since the current reference, and what no software can see.
std::vector<std::string> cannotBeKnown(const Coupler&, const Calibrator&, const BenchNow&);

// "2 h", "3 days", "less than a minute".
std::string durationText(double seconds);

} // namespace couplet
