// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Units.h"

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>

// Purpose: a bench that does not exist, with its truth written down: what its calibrator and earphones say on paper,
//          and what they really do. A demonstration reads the paper; a test compares with the truth.
// Units:   dB SPL at the coupler's microphone (dB re 20 uPa), V RMS, ohm, Hz; U is expanded (95.45 %).
// Source:  invented throughout, impedances and right sides too; sizes are those of insert earphones on an ear
//          simulator of IEC 60318-4.
// Thread:  any (plain values, no allocation).
namespace couplet {

enum class Side { left, right };

struct SimulatedCalibrator
{
    std::string_view name = "bench calibrator";
    int calibratorClass = 1;         // IEC 60942
    double certified_dBSPL = 114.02; // on paper and in truth
    double certificateU_dB = 0.15;
    Hertz nominal{1000.0};
    Hertz frequency{1000.04}; // what it really plays
    double distortion_percent = 0.42;
};

struct SimulatedEarphone
{
    std::string_view name;
    double rated_dBPerVolt = 0.0;   // at the terminals, at `ratedFrequency`
    double ratedTolerance_dB = 0.0; // half-width
    Hertz ratedFrequency;
    Ohms impedance;
    Volts drive; // the voltage of its reading: across it, or open-circuit when `source` is there
    std::optional<Ohms> source = {};
    Hertz frequency;         // of the tone it is driven with
    double left_dBSPL = 0.0; // in truth, at `drive`
    double right_dBSPL = 0.0;
    double distortion_percent = 0.08;
    bool keptAside = false; // takes no part in choosing the correction
};

struct Scenario
{
    std::string_view couplerName = "bench coupler";
    std::string_view couplerKind = "ear simulator IEC 60318-4";
    double offset_dB = 121.97;    // in truth: dB SPL at 0 dBFS
    double correction_dB = 1.36;  // what the coupler takes from this calibrator, in truth and on paper
    double correctionU_dB = 0.45; // holds the calibrator's certificate
    SimulatedCalibrator calibrator;
    std::array<SimulatedEarphone, 4> earphones;

    Volts driveFullScale{2.0};  // of the second channel: RMS of a full-scale sine
    Percent meterAccuracy{0.5}; // of the voltmeter that taught it

    double noise_dBSPL = 31.4; // microphone and preamplifier, 20 Hz to 20 kHz, unweighted
    Hertz mains{50.0};
    double hum_dBSPL = 94.0 - 57.0; // orders 1 to 3 together
    double seatWander_dB = 0.01;    // the tone's level stays within this of the truth
    double microphoneDc = 4e-4;     // of full scale
    double driveDc = -1e-4;
};

// The scenario of the demonstration.
constexpr Scenario demoScenario()
{
    Scenario s;
    s.earphones = {{
        {.name = "earphone P",
         .rated_dBPerVolt = 118.70,
         .ratedTolerance_dB = 0.8,
         .ratedFrequency = Hertz(1000.0),
         .impedance = Ohms(16.0),
         .drive = Volts(0.0624),
         .source = {},
         .frequency = Hertz(1000.02),
         .left_dBSPL = 94.82,
         .right_dBSPL = 94.82 - 0.12},
        {.name = "earphone Q",
         .rated_dBPerVolt = 109.60,
         .ratedTolerance_dB = 1.0,
         .ratedFrequency = Hertz(1000.0),
         .impedance = Ohms(32.0),
         .drive = Volts(0.1380),
         .source = {},
         .frequency = Hertz(1000.02),
         .left_dBSPL = 92.26,
         .right_dBSPL = 92.26 + 0.21},
        {.name = "earphone R",
         .rated_dBPerVolt = 121.95,
         .ratedTolerance_dB = 1.0,
         .ratedFrequency = Hertz(500.0),
         .impedance = Ohms(18.0),
         .drive = Volts(0.0624),
         .source = {},
         .frequency = Hertz(500.01),
         .left_dBSPL = 98.35,
         .right_dBSPL = 98.35 - 0.18},
        {.name = "earphone S",
         .rated_dBPerVolt = 112.40,
         .ratedTolerance_dB = 1.0,
         .ratedFrequency = Hertz(500.0),
         .impedance = Ohms(24.0),
         .drive = Volts(0.1232),
         .source = Ohms(1.0),
         .frequency = Hertz(500.01),
         .left_dBSPL = 93.97,
         .right_dBSPL = 93.97 + 0.16,
         .keptAside = true},
    }};
    return s;
}

// What sits on the coupler.
struct OnCoupler
{
    enum class What { nothing, calibrator, earphone };
    What what = What::nothing;
    std::size_t earphone = 0; // index into Scenario::earphones
    Side side = Side::left;
    std::optional<Volts> drive = {}; // >= 0; absent: the drive of the earphone's own reading

    bool operator==(const OnCoupler&) const = default;
};

// True level of the tone at the coupler's microphone; absent with nothing on it, with no such earphone, or
// with no drive to speak of.
std::optional<double> trueLevel_dBSPL(const Scenario&, const OnCoupler&) noexcept;

} // namespace couplet
