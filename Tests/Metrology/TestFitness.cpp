// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Fitness.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <string>

using namespace couplet;

namespace {

ToneFacts goodTone()
{
    ToneFacts tone;
    tone.frequency = Hertz(1000.04);
    tone.steadiness_dB = 0.01;
    tone.distortionAndNoise_percent = 0.42;
    tone.aboveNoise_dB = 81.3;
    tone.headroom_dB = 9.3;
    tone.steadyFor_s = 10.0;
    tone.slopeU_dBPerSecond = 0.001;
    return tone;
}

std::vector<Check> checksOf(const ToneFacts& tone, std::optional<int> calibratorClass = 1)
{
    return fitnessChecks(tone, calibratorClass, Hertz(1000.0), 3.0);
}

// The one check that fails.
Check failureOf(const ToneFacts& tone, std::optional<int> calibratorClass = 1)
{
    Check failure;
    int failures = 0;
    for (const auto& check : checksOf(tone, calibratorClass)) {
        CHECK(check.passes == check.reason.empty());
        if (!check.passes) {
            failure = check;
            ++failures;
        }
    }
    REQUIRE(failures == 1);
    return failure;
}

bool holds(const std::string& sentence, const std::string& part)
{
    return sentence.find(part) != std::string::npos;
}

// Frequencies inside the band that a row of the table names: "160..1250", ">63..<160", "all".
std::vector<double> frequenciesIn(const std::string& band)
{
    if (band == "all")
        return {160.0, 250.0, 1000.0, 1250.0};
    const auto dots = band.find("..");
    const std::string low = band.substr(0, dots), high = band.substr(dots + 2);
    const auto edge = [](const std::string& text, char open, double inward) {
        return text.front() == open ? std::stod(text.substr(1)) * inward : std::stod(text);
    };
    const double from = edge(low, '>', 1.0001), to = edge(high, '<', 0.9999);
    return {from, std::sqrt(from * to), to};
}

void checkColumn(const published::Row& row, const char* column, std::optional<int> calibratorClass,
                 double CalibratorLimits::*limit)
{
    for (const double f : frequenciesIn(row.text("nominal_hz"))) {
        CAPTURE(row.text("quantity"), row.text("nominal_hz"), column, f);
        const auto limits = calibratorLimits(calibratorClass, Hertz(f));
        if (row.isBlank(column)) {
            CHECK_FALSE(limits);
            continue;
        }
        REQUIRE(limits);
        CHECK((*limits).*limit == row.number(column));
    }
}

} // namespace

TEST_CASE("calibrator limits are those of IEC 60942, class by class and band by band")
{
    // IEC 60942:2017 Tables 2, 4 and 7 (second-hand, two transcriptions).
    int rows = 0;
    for (const auto& row : published::table("iec60942_2017_limits").rows) {
        const auto& quantity = row.text("quantity");
        double CalibratorLimits::*limit =
            quantity == "level dB (Table 2)"                    ? &CalibratorLimits::level_dB
            : quantity == "short-term fluctuation dB (Table 2)" ? &CalibratorLimits::fluctuation_dB
            : quantity == "frequency % (Table 4)"               ? &CalibratorLimits::frequency_percent
            : quantity == "total distortion+noise % (Table 7)"  ? &CalibratorLimits::distortion_percent
                                                                : nullptr;
        if (limit == nullptr)
            continue; // supply voltage, environment, field immunity: not seen by a reading
        ++rows;
        checkColumn(row, "class1", 1, limit);
        checkColumn(row, "class2", 2, limit);
        checkColumn(row, "class2", std::nullopt, limit); // an unknown class
        if (limit == &CalibratorLimits::level_dB) {
            checkColumn(row, "Umax_class1", 1, &CalibratorLimits::levelU_dB);
            checkColumn(row, "Umax_class2", 2, &CalibratorLimits::levelU_dB);
        }
    }
    CHECK(rows == 16);
    CHECK_FALSE(calibratorLimits(1, Hertz(31.4)));
    CHECK_FALSE(calibratorLimits(1, Hertz(16001.0)));
    CHECK_FALSE(calibratorLimits(1, Hertz(std::nan(""))));
}

TEST_CASE("the two-part rule decides as the standards' examples do")
{
    // IEC 60942:2017 Table E.1 and IEC 61672-1:2013 Table C.1 (second-hand).
    for (const auto& row : published::table("conformance_rule_examples").rows) {
        CAPTURE(row.text("standard"), row.text("example"));
        const auto result = conformance(row.number("deviation_db"), row.number("lower_db"), row.number("upper_db"),
                                        row.number("U_actual"), row.number("U_max"));
        CHECK((result == Conformance::conforms) == (row.number("conforms") == 1.0));
        CHECK(static_cast<double>(static_cast<int>(result) + 1) == row.number("outcome"));
    }
}

TEST_CASE("limits that only binary arithmetic misses are kept")
{
    CHECK(conformance(114.25 - 114.0, -0.25, 0.25, 0.1 + 0.05, 0.15) == Conformance::conforms);
    CHECK(conformance(93.6 - 94.0, -0.4, 0.4, 0.1, 0.35) == Conformance::conforms);
    CHECK(conformance(0.2501, -0.25, 0.25, 0.1, 0.15) == Conformance::deviationOut);
}

TEST_CASE("a good tone is fit, and its checks read as their limits")
{
    const auto checks = checksOf(goodTone());
    CHECK(allPass(checks));
    REQUIRE(checks.size() == 7);
    CHECK(checks[0].name == "1000 Hz within 0.7 %");
    CHECK(checks[0].value == 1000.04);
    CHECK(checks[1].name == "steady within 0.07 dB");
    CHECK(checks[2].name == "distortion below 2.5 %");
    CHECK(checks[3].name == "30 dB above the noise");
    CHECK(checks[4].name == "headroom, 3 dB");
    CHECK(checks[5].name == "not clipped");
    CHECK(checks[6].name == "undisturbed for 3 s");
}

TEST_CASE("each limit is inclusive and fails on its own beyond, with a reason")
{
    auto tone = goodTone();
    tone.frequency = Hertz(1007.0);
    tone.steadiness_dB = 0.07;
    tone.distortionAndNoise_percent = 2.5;
    tone.aboveNoise_dB = 30.0;
    tone.headroom_dB = 3.0;
    tone.steadyFor_s = 3.0;
    CHECK(allPass(checksOf(tone)));

    tone = goodTone();
    tone.frequency = Hertz(870.0);
    CHECK(failureOf(tone).reason == "the frequency is 870.0 Hz, 13 % off: is the calibrator's battery low, or its "
                                    "switch at another frequency?");
    tone.frequency = Hertz(1007.1);
    CHECK(holds(failureOf(tone).reason, "0.71 % off"));
    tone = goodTone();
    tone.steadiness_dB = 0.071;
    CHECK(failureOf(tone).name == "steady within 0.07 dB");
    tone = goodTone();
    tone.distortionAndNoise_percent = 2.51;
    CHECK(failureOf(tone).name == "distortion below 2.5 %");
    tone = goodTone();
    tone.aboveNoise_dB = 29.9;
    CHECK(failureOf(tone).name == "30 dB above the noise");
    tone = goodTone();
    tone.headroom_dB = 2.9;
    CHECK(failureOf(tone).name == "headroom, 3 dB");
    tone = goodTone();
    tone.clippedSamples = 1;
    CHECK(failureOf(tone).name == "not clipped");
    tone = goodTone();
    tone.steadyFor_s = 2.9;
    CHECK(holds(failureOf(tone).reason, "the longest undisturbed stretch is 2.9 s"));
}

TEST_CASE("an even drift is not steady, even where its deviation from the mean is small")
{
    auto tone = goodTone();
    tone.slope_dBPerSecond = -0.03; // 0.09 dB in 3 s
    const auto failure = failureOf(tone);
    CHECK(failure.name == "steady within 0.07 dB");
    CHECK(failure.value == Approx(0.09));
    CHECK(holds(failure.reason, "\u22120.030 dB/s"));
    CHECK(holds(failure.reason, "slipping"));
    CHECK(holds(failure.reason, "battery"));
    CHECK(holds(failure.reason, "bias voltage"));

    tone.slope_dBPerSecond = 0.03;
    CHECK(holds(failureOf(tone).reason, "+0.030 dB/s"));
    tone.slope_dBPerSecond = -0.02; // 0.06 dB in 3 s: within the limit of class 1
    CHECK(allPass(checksOf(tone)));
    tone.slope_dBPerSecond = -0.03; // and this one no more than its scatter may feign
    tone.slopeU_dBPerSecond = 0.02;
    CHECK(allPass(checksOf(tone)));
}

TEST_CASE("an unknown class is held to class 2, and where there are no limits that is said")
{
    auto tone = goodTone();
    tone.steadiness_dB = 0.12;
    CHECK_FALSE(allPass(checksOf(tone, 1)));
    CHECK(allPass(checksOf(tone, 2)));
    CHECK(allPass(checksOf(tone, std::nullopt)));
    const auto checks = fitnessChecks(goodTone(), std::nullopt, Hertz(4000.0), 3.0);
    CHECK_FALSE(allPass(checks));
    CHECK(holds(checks.front().reason, "no limits for this calibrator at 4 kHz"));
}

TEST_CASE("a tone without any noise is above it")
{
    auto tone = goodTone();
    tone.aboveNoise_dB = INFINITY;
    CHECK(allPass(checksOf(tone)));
}

TEST_CASE("what could not be measured does not pass")
{
    auto tone = goodTone();
    tone.steadiness_dB = std::nan("");
    CHECK(holds(failureOf(tone).reason, "could not be measured"));
    tone = goodTone();
    tone.frequency = Hertz(std::nan(""));
    CHECK(holds(failureOf(tone).reason, "could not be measured"));
    tone = goodTone();
    tone.aboveNoise_dB = -INFINITY;
    CHECK(holds(failureOf(tone).reason, "could not be measured"));
    tone = goodTone();
    tone.slope_dBPerSecond = std::nan("");
    CHECK(holds(failureOf(tone).reason, "could not be measured"));
}

TEST_CASE("hum that makes the distortion is named as hum")
{
    ToneFacts tone;
    tone.frequency = Hertz(1000.0);
    tone.distortionAndNoise_percent = 10.0;
    tone.humBelowTone_dB = 20.0;
    tone.aboveNoise_dB = 60.0;
    tone.headroom_dB = 9.0;
    tone.steadyFor_s = 10.0;
    const auto reasonOf = [&] {
        for (const auto& check : fitnessChecks(tone, 1, Hertz(1000.0), 5.0))
            if (!check.passes)
                return check.reason;
        return std::string();
    };
    CHECK(reasonOf().find("hum is only 20.0 dB below the tone") != std::string::npos);
    tone.humBelowTone_dB = 40.0; // 1 % of 10: something else it is
    CHECK(reasonOf().find("distortion and noise come to 10 %") != std::string::npos);
}
