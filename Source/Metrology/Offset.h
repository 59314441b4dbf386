// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/JudgedTerms.h"
#include "Quantities/Budget.h"
#include "Quantities/Outcome.h"
#include "Quantities/Units.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: what full scale stands for at the coupler's microphone: L_mic = L_cal + dL_p - c, and from it the
//          offset O = L_mic - x_cal.
// Source:  static pressure by the definition of a piston source in a closed cavity, 20 lg(p / 101.325 kPa).
// Units:   dB, dBFS (a full-scale sine reads 0), kPa.
// Thread:  any but audio.
namespace couplet {

// How a calibrator's level follows static pressure.
struct PressureLaw
{
    enum class Kind { notStated, none, piston, coefficient }; // none: it regulates itself, and that is stated
    Kind kind = Kind::notStated;
    bool needsPressure() const { return kind == Kind::piston || kind == Kind::coefficient; }
    double dBPerKilopascal = 0.0; // coefficient only

    bool operator==(const PressureLaw&) const = default;
};

// dL_p for a pressure within 50 to 120 kPa; 0 where the law is not stated.
double pressureCorrection_dB(PressureLaw, Kilopascals);

// What the coupler takes away from one calibrator's level at one frequency.
struct Correction
{
    double value_dB = 0.0;
    std::optional<double> U_dB;      // expanded, 95.45 %; absent: not given
    bool includesCalibrator = false; // U already holds the certificate of the calibrator it was found with
    std::string calibrator;          // its name; empty: not recorded
    std::optional<Hertz> frequency;
    std::string origin; // for a person: "typed", "fit of 2026-05-03, mostly the silicone collar"
    std::string date;   // ISO 8601; may be empty
    // Earphones that took part in choosing it: that one of them agrees is no proof. Absent: not recorded.
    std::optional<std::vector<std::string>> chosenBy = {};

    bool operator==(const Correction&) const = default;
};

// Everything one reference is made of.
struct ReferenceInput
{
    double certifiedLevel_dB = 94.0;       // L_cal at 101.325 kPa
    std::optional<double> certificateU_dB; // expanded, k = 2
    std::optional<int> calibratorClass;    // 1 or 2: used for the level's limits when there is no certificate
    PressureLaw pressureLaw;
    std::optional<Kilopascals> pressure;  // needed for a piston or a coefficient
    std::optional<Correction> correction; // absent: the microphone was bare in the calibrator
    double tone_dBFS = 0.0;               // x_cal
    double toneU_dB = 0.0;                // standard uncertainty of the reading itself
    Hertz frequency;                      // of the tone
    JudgedTerms judged;                   // seating, drift, linearity and barometer
    std::optional<BudgetTerm> seating;    // from the scatter of several seatings, in place of the judged one
    std::optional<BudgetTerm> linearity;  // from the calibrator's second level, in place of the judged one
};

// The offset with its sum and its budget: correction (with or without the calibrator), pressure, seating, drift since,
// linearity, reading. Without a stated law a pressure away from 101.325 kPa leaves it without U.
Outcome<Figure> offsetFrom(const ReferenceInput&);

// What the coupler takes by the addends that an offset is kept with; 0 where nothing was taken off.
double takenByCoupler_dB(const std::vector<Addend>&);

// The offset as if the coupler took nothing away, and what stays of its budget when that is what is to be found: neither
// the correction nor the calibrator, and without the seating, which is told by itself. Needs the addends that an
// offset is kept with.
struct OffsetBare
{
    Figure offset;
    double u_seating_dB = 0.0;
};
OffsetBare withoutCorrection(const std::vector<Addend>&, const Budget&, double offset_dB);

} // namespace couplet
