// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/FitPosterior.h"
#include "Metrology/Outliers.h"
#include "Quantities/Outcome.h"
#include "Quantities/Units.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

// Purpose: how much a coupler takes away from a calibrator's level: readings of a bare microphone in the calibrator, a
//          group a fitting; of the same microphone behind a coupler like the bench's; and of earphones whose level is
//          known from their ratings. Only differences count: that microphone need not be calibrated.
// Source:  model of this product (docs/method.md).
// Units:   dB; standard uncertainties u.
// Errors:  a fault where nothing can be said at all. Everything that is merely odd is a fact of the result.
// Thread:  any but audio; some 30 ms.
namespace couplet {

struct FitReading
{
    double level_dB = 0.0;           // finite
    std::string setAside = {};       // the reason; empty: it counts
    std::optional<double> at_s = {}; // time it was taken, from any zero
    std::optional<Hertz> frequency = {};
    std::string calibrator = {}; // name; empty: not said

    bool operator==(const FitReading&) const = default;
};

struct FitGroup
{
    std::string name; // empty for the readings through the coupler
    std::vector<FitReading> readings;

    bool operator==(const FitGroup&) const = default;
};

// One of several times that an earphone was put in and read, and what it was held against then.
struct FitInsertion
{
    double level_dB = 0.0;           // read as if the coupler took nothing away
    std::string setAside = {};       // the reason; empty: it counts
    std::optional<double> at_s = {}; // time it was read, from any zero
    bool seatedAnew = false;         // the earphone was seen to be taken out before it
    // For the drive there was; absent: no rating was known. Of an earphone's insertions all have it, or none.
    std::optional<double> expected_dB = {};
    std::optional<double> u_rest_dB = {}; // of all but the insertion itself and what is shared; absent: not stated
    double u_insertion_dB = 0.0;          // of a single one, where u_rest is there
    double u_shared_dB = 0.0;             // by all earphones of the bench: reference and voltmeter; likewise

    bool operator==(const FitInsertion&) const = default;
};

struct FitEarphone
{
    std::string name;
    double level_dB = 0.0;              // read as if the coupler took nothing away, for the drive of the expected level
    double expected_dB = 0.0;           // of the newest insertion that counts, where they have it
    std::optional<double> tolerance_dB; // half-width
    std::optional<double> u_dB;         // of the rest: reading and drive, without what is shared where that is known
    bool keptAside = false;             // to prove the correction with
    std::string setAside = {};          // the reason; empty: it counts
    std::vector<FitInsertion> insertions = {}; // the level is the mean of those that count; none: it was given whole
    std::optional<double> u_stated_dB = {};    // in place of what the insertions come to, unless they scatter by more
    double u_shared_dB = 0.0;                  // with all earphones: drift since the reference, voltmeter; 0: not known

    bool operator==(const FitEarphone&) const = default;
    double says_dB() const { return level_dB - expected_dB; }
};

// Its insertions, each with the level that it would have had with the drive of the earphone's expected level.
std::vector<FitInsertion> insertionsForOneDrive(const FitEarphone&);

// Levels of those readings or insertions that are not set aside.
template <class Reading> std::vector<double> levelsThatCount(const std::vector<Reading>& readings)
{
    std::vector<double> levels;
    for (const auto& reading : readings)
        if (reading.setAside.empty())
            levels.push_back(reading.level_dB);
    return levels;
}

struct FitSettings
{
    // The bench's microphone is built in, and the readings were made with another coupler of its kind; else they were
    // made with the bench's own coupler and microphone, and nothing is taken over.
    bool microphoneBuiltIn = true;
    double u_transfer_dB = 0.15;
    double u_adapter_dB = 0.10;
    std::optional<double> u_calibrator_dB; // the certificate's U / 2
    double u_seating_dB = 0.05;            // of the reference that the earphones were read with: all share it
    std::optional<Hertz> frequency;        // that the correction is for
    std::string calibrator;                // and the calibrator; empty: not said

    bool operator==(const FitSettings&) const = default;
};

struct FitInput
{
    std::vector<FitGroup> fittings;
    FitGroup through;
    std::vector<FitEarphone> earphones;
    FitSettings settings;

    bool operator==(const FitInput&) const = default;
};

struct FitRange
{
    double low_dB, high_dB;
};

// A fitting, or the readings through the coupler, that have at least one reading that counts.
struct FittedGroup
{
    std::string name;
    std::size_t count = 0, setAside = 0;
    double mean_dB = 0.0;
    std::optional<double> scatter_dB;      // absent for one reading
    std::optional<double> says_dB;         // absent for the readings through the coupler, and without these
    std::optional<FitRange> range;         // two deviations of that mean
    std::optional<DensitySummary> without; // the result without it
    std::optional<double> ownError; // probability that it repeats an error its scatter does not show; absent likewise
    std::vector<Outlier> outliers;  // index among all of the group's readings
    TimeTrend trend;
};

struct FittedEarphone
{
    std::string name;
    double says_dB = 0.0;
    std::optional<FitRange> range; // its tolerance, or else two deviations; absent with neither
    std::optional<double> tolerance_dB;
    bool takesPart = false; // else kept aside, set aside, or its uncertainty is not stated
    bool keptAside = false;
    std::string setAside;
    std::vector<Outlier> outliers;         // index among all of its insertions
    std::optional<DensitySummary> without; // for one that takes no part: the result itself
    std::optional<double> outside;         // probability that it lies outside its rating; absent: cannot be judged
    std::optional<bool> contradicts;       // that is above 1/2
};

struct CorrectionFit
{
    std::vector<FittedGroup> fittings;
    std::optional<FittedGroup> through;
    std::vector<FittedEarphone> earphones;
    FitEvidence evidence; // what the posterior was made of, in the order of those that take part
    FitPosterior posterior;
    std::vector<std::string> missing; // what has to be stated before the result has an uncertainty
    std::vector<std::pair<std::size_t, std::size_t>> notToldApart; // fittings by index, first < second

    double correction_dB() const { return posterior.all.mean_dB; }
    // Nothing is missing, and the evidence does not contradict itself.
    bool hasUncertainty() const { return missing.empty() && !contradictsItself(); }
    double U_dB() const { return 0.5 * (posterior.all.high_dB - posterior.all.low_dB); } // half the interval

    // Fittings and earphones differ by so much, which is more than both leave possible; else absent.
    std::optional<double> clash_dB() const;
    bool fallsApart() const { return posterior.peaks_dB.size() > 1; }
    bool mostLieOutside() const; // half of the earphones that take part, or more, lie outside their ratings
    bool contradictsItself() const { return fallsApart() || clash_dB() || mostLieOutside(); }
};

// From here on a probability names its piece of evidence. No source.
inline constexpr double namedFrom = 0.5;
// Fittings and earphones contradict each other beyond so many standard uncertainties of their difference. No source.
inline constexpr double clashFactor = 2.0;

inline constexpr std::size_t mostFittings = 64, mostFitEarphones = 200;

Outcome<CorrectionFit> fitCorrection(const FitInput&);

// How far two fittings may differ and still not be told apart: 95.45 % for their means' scatter and for errors of their
// own of `kappa` times it.
double toldApartFrom_dB(const FittingEvidence&, const FittingEvidence&, double kappa);

} // namespace couplet
