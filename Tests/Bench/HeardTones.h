// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Reading.h"
#include "Bench/SimulatedPapers.h"
#include "Bench/ToneSummary.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

// Purpose: tones as they were heard, and the bench of the examples with a good reference, for tests of what is made of
//          them; and what was said.
namespace couplet::tests {

// A calibrator's, fit in every way.
inline ToneSummary calibratorHeard(double level_dBFS, double scatter_dB = 0.004)
{
    ToneSummary s;
    s.level_dBFS = level_dBFS;
    s.frequency = Hertz(1000.04);
    s.steadiness_dB = 0.01;
    s.scatter_dB = scatter_dB;
    s.distortionAndNoise_percent = 0.5;
    s.noise_dBFS = -90.0;
    s.headroom_dB = 9.3;
    s.stretch_s = 10.0;
    s.sampleRate_Hz = 48000.0;
    return s;
}

// Earphone S on the left, as the Read sketch has it.
inline ToneSummary earphoneHeard()
{
    ToneSummary t;
    t.level_dBFS = -28.05;
    t.frequency = Hertz(500.01);
    t.steadiness_dB = 0.01;
    t.sampleRate_Hz = 48000.0;
    return t;
}

// Its bench, with a reference of this budget.
inline Setup benchOfEarphone(Budget budget, double reference_Hz)
{
    const Scenario scenario = demoScenario();
    Setup s;
    s.coupler = couplerOnPaper(scenario);
    Reference reference;
    reference.takenAt = "2026-05-03T12:04:00Z";
    reference.offset_dB = 121.97;
    reference.budget = std::move(budget);
    reference.frequency = Hertz(reference_Hz);
    reference.sampleRate_Hz = 48000.0;
    s.coupler->references = {reference};
    s.earphone = earphoneOnPaper(scenario, 3);
    s.drive = driveOnPaper(scenario, 3);
    s.now = "2026-05-03T14:04:00Z";
    return s;
}

inline Budget budgetOfSketch()
{
    return {{"correction, with the calibrator", 0.225, infiniteDegrees, Shape::normal, "typed"},
            {"seating it again", 0.05, infiniteDegrees, Shape::normal, "assumed"},
            {"drift since", 0.02, infiniteDegrees, Shape::normal, "assumed"},
            {"reading", 0.004, infiniteDegrees, Shape::normal, "10 s"}};
}

inline std::vector<ResponsePoint> responseOfSketch()
{
    return {{Hertz(20.0), 0.0}, {Hertz(500.0), -0.05}, {Hertz(1000.0), 0.0}, {Hertz(20000.0), 1.0}};
}

} // namespace couplet::tests
