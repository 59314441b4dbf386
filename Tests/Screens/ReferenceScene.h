// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceTaking.h"
#include "Plugin/ReferenceView.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: a bench on which a reference is being taken, to be changed by a state before it is made a view.
namespace couplet {

struct ReferenceScene
{
    std::optional<Coupler> coupler;
    std::vector<Calibrator> library;
    std::optional<Calibrator> calibrator; // on the coupler
    ToneSummary tone;
    std::vector<ToneSummary> seatings; // a reference just taken is made of these
    std::optional<ToneSummary> secondLevel;
    std::optional<Kilopascals> pressure;
    std::optional<double> level_dB;
    std::string now = "2026-05-03T14:04:11Z";

    CaptureState state = CaptureState::idle;
    CaptureKind kind = CaptureKind::reference;
    int seatingsKept = 0;
    double kept_s = 0.0;
    std::string notice;

    ReferenceSetup setup() const;
    // Takes the reference of the seatings into the history; one that moved beyond the usual limits only when it is meant,
    // else it waits for a word.
    void take(bool meant = false);
    ReferenceView view() const;

private:
    std::optional<ReferenceOutcome> taken;
    bool waits = false;
};

// The sketch's: 23 references, the last of the day before, and the calibrator on the coupler.
ReferenceScene sketchedScene();
void takeNoCalibrator(ReferenceScene&); // a tone 16 dB below: it waits for a word
void takeStep(ReferenceScene&);         // 6.02 dB more gain, and meant
Coupler couplerWith(const std::vector<double>& offsets_dB, double daysApart);

} // namespace couplet
