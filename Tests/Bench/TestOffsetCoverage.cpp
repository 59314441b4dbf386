// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReferenceTaking.h"
#include "Bench/SimulatedPapers.h"
#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

// Does the stated U cover the truth? In the manner of JCGM 101:2008: each trial draws every term of the offset from the
// distribution that its budget claims, the correction directly, takes a reference with what the bench would then show,
// and compares with the truth of that trial.

using namespace couplet;

namespace {

struct Case
{
    const char* name;
    std::optional<double> correctionU_dB; // absent: a bare microphone, and no correction
    bool correctionHoldsCalibrator = false;
    std::optional<double> certificateU_dB; // absent: by the limits of class 1
    int seatings = 1;
    double seating_dB = 0.05; // true standard deviation
    bool piston = false;
    bool secondLevel = false;
};

const Case cases[] = {
    {"the bench of the demonstration, one seating", 0.45, true, 0.15, 1},
    {"a correction of its own, three seatings, a second level", 0.20, false, 0.15, 3, 0.05, false, true},
    {"a bare microphone, class limits alone, static pressure", std::nullopt, false, std::nullopt, 1, 0.05, true},
    {"three seatings that scatter more than all else", 0.10, true, 0.15, 3, 0.10},
};

class Trials
{
public:
    explicit Trials(const Case& c) : how(c)
    {
        setup.coupler = couplerOnPaper(demoScenario());
        setup.calibrator = calibratorOnPaper(demoScenario());
        setup.calibrator.tones = {{Hertz(1000.0), certified_dB, how.certificateU_dB}};
        if (how.secondLevel) {
            setup.calibrator.tones.push_back({Hertz(1000.0), certified_dB - 19.99, how.certificateU_dB});
            setup.level_dB = certified_dB;
        }
        if (how.piston) {
            setup.calibrator.pressureLaw = {PressureLaw::Kind::piston, 0.0};
            setup.pressure = Kilopascals(stated_kPa);
        }
        setup.coupler.correction.reset();
        if (how.correctionU_dB) {
            Correction correction;
            correction.value_dB = correction_dB;
            correction.U_dB = how.correctionU_dB;
            correction.includesCalibrator = how.correctionHoldsCalibrator;
            correction.calibrator = setup.calibrator.name;
            correction.frequency = Hertz(1000.0);
            setup.coupler.correction = correction;
        }
    }

    double shareCovered(int trials)
    {
        int covered = 0;
        for (int i = 0; i < trials; ++i)
            covered += covers() ? 1 : 0;
        return static_cast<double>(covered) / trials;
    }

private:
    static constexpr double certified_dB = 114.02, correction_dB = 1.36, stated_kPa = 98.6, reading_dB = 0.004;

    double normal(double u) { return std::normal_distribution<double>(0.0, u)(engine); }
    double rectangle(double halfWidth) { return std::uniform_real_distribution<double>(-halfWidth, halfWidth)(engine); }

    ToneSummary heard(double level_dBFS)
    {
        ToneSummary s;
        s.level_dBFS = level_dBFS + normal(reading_dB);
        s.frequency = Hertz(1000.04);
        s.steadiness_dB = 0.01;
        s.scatter_dB = reading_dB;
        s.distortionAndNoise_percent = 0.5;
        s.noise_dBFS = -90.0;
        s.headroom_dB = 9.3;
        s.stretch_s = 10.0;
        return s;
    }

    bool covers()
    {
        constexpr double trueOffset_dB = 121.97;
        double atMicrophone_dB = certified_dB;
        if (how.correctionU_dB)
            atMicrophone_dB -= correction_dB + normal(*how.correctionU_dB / 2.0);
        if (how.certificateU_dB && !how.correctionHoldsCalibrator)
            atMicrophone_dB += normal(*how.certificateU_dB / 2.0);
        if (!how.certificateU_dB)
            atMicrophone_dB += rectangle(0.25); // class 1, IEC 60942:2017 Table 2
        if (how.piston)
            atMicrophone_dB += decibels((stated_kPa + normal(0.1)) / 101.325);
        std::vector<ToneSummary> seatings;
        for (int n = 0; n < how.seatings; ++n)
            seatings.push_back(heard(atMicrophone_dB - trueOffset_dB + normal(how.seating_dB)));
        double useful_dB = trueOffset_dB + normal(0.02); // by the time it is used
        if (how.secondLevel) {
            setup.secondLevel = heard(*seatings.front().level_dBFS - 19.98);
            setup.secondLevel->level_dBFS = meanOf(seatings) - 19.98;
            useful_dB += rectangle(std::hypot(0.01, 2.0 * std::hypot(reading_dB / std::sqrt(3.0), reading_dB)));
        }
        const auto taken = takeReference(seatings, setup);
        REQUIRE(taken);
        REQUIRE(taken->expanded);
        return std::abs(taken->offset->level_dB - useful_dB) <= taken->expanded->U_dB;
    }

    static double meanOf(const std::vector<ToneSummary>& seatings)
    {
        double sum = 0.0;
        for (const auto& s : seatings)
            sum += *s.level_dBFS;
        return sum / static_cast<double>(seatings.size());
    }

    Case how;
    ReferenceSetup setup;
    std::mt19937_64 engine{20081001};
};

void checkCoverage(int trials)
{
    for (const Case& each : cases) {
        const double share = Trials(each).shareCovered(trials);
        CAPTURE(each.name, trials);
        CHECK(share >= 0.94);
        CHECK(share <= 0.97);
    }
}

} // namespace

TEST_CASE("the offset's U covers the truth in 94 to 97 % of 5,000 trials")
{
    checkCoverage(5000);
}

TEST_CASE("the offset's U covers the truth in 94 to 97 % of 100,000 trials", "[.long]")
{
    checkCoverage(100000);
}
