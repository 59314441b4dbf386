// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Units.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: is a calibrator's tone fit to take a reference from?
// Source:  IEC 60942:2017 Tables 2, 4 and 7 (second-hand), limits by class and nominal frequency; 30 dB above
//          noise, 3 dB headroom, steady for 3 s: common practice, no source.
// Thread:  any but audio.
namespace couplet {

struct Check
{
    std::string name; // "1000 Hz within 0.7 %"
    double value = 0.0;
    double limit = 0.0; // in the same unit; for the frequency the largest deviation from the nominal one
    std::string unit;   // "Hz", "dB", "%", ""
    bool passes = false;
    std::string reason; // when it fails: one sentence a person can act on; else empty
};

struct CalibratorLimits
{
    double level_dB;  // absolute deviation
    double levelU_dB; // largest permitted expanded uncertainty
    double fluctuation_dB;
    double frequency_percent;
    double distortion_percent; // total distortion + noise
};
// Classes 1 and 2; an unknown class is held to class 2's. Absent outside the frequencies the tables cover.
std::optional<CalibratorLimits> calibratorLimits(std::optional<int> calibratorClass, Hertz nominal);

// What was measured of the tone.
struct ToneFacts
{
    Hertz frequency;
    double steadiness_dB = 0.0; // largest deviation of the 125 ms level from its mean
    double distortionAndNoise_percent = 0.0;
    double aboveNoise_dB = 0.0; // tone over the broadband noise
    double headroom_dB = 0.0;
    long clippedSamples = 0;
    double steadyFor_s = 0.0;        // length of the undisturbed stretch
    double slope_dBPerSecond = 0.0;  // fitted through the stretch
    double slopeU_dBPerSecond = 0.0; // its standard uncertainty
    std::optional<double> humBelowTone_dB;
};

std::vector<Check> fitnessChecks(const ToneFacts&, std::optional<int> calibratorClass, Hertz nominal, double needed_s);
bool allPass(const std::vector<Check>&);

// The two-part rule: |deviation| within the limits AND the actual U no larger than permitted, both inclusive.
// Source: IEC 60942:2017 Annex E, IEC 61672-1:2013 Annex C (second-hand).
enum class Conformance { conforms, uncertaintyTooLarge, deviationOut, both };
Conformance conformance(double deviation_dB, double lower_dB, double upper_dB, double U_dB, double largestU_dB);

// A new offset against the one before and against the history's control limits.
struct HistoryCheck
{
    std::optional<double> change_dB; // absent without an earlier reference
    double allowedChange_dB = 0.3;   // t sqrt(2) s of five or more kept references, t for 3 sigma; else 0.3 dB
    std::optional<bool>
        withinLimits; // of mean +- t s sqrt(1 + 1/n); with fewer than five: of the allowed change; absent with none
};
// `kept_dB`: offsets of the references not set aside, oldest first.
HistoryCheck checkAgainstHistory(double offset_dB, const std::vector<double>& kept_dB);

} // namespace couplet
