// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/SpectrumMaking.h"

#include "Quantities/Decibels.h"
#include "Signal/Analyser.h"
#include "Signal/Stream.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace couplet;

namespace {

struct Heard
{
    SpectrumResult result;
    ToneEstimate tone;
};

Heard heard(const test::Truth& truth, double seconds = 3.0)
{
    const auto samples = test::Stream(truth, 3).seconds(seconds);
    SpectrumMeter meter(truth.sampleRate_Hz);
    Analyser analyser(truth.sampleRate_Hz);
    meter.add(samples);
    analyser.add(samples.data(), nullptr, static_cast<int>(samples.size()), [](const Estimate&) {});
    return {meter.result(), analyser.latest().tone};
}

// A reference at 1 kHz; the table, if any, is as given.
Setup referenced(double offset_dB, std::vector<ResponsePoint> table = {})
{
    Setup setup;
    Reference reference;
    reference.offset_dB = offset_dB;
    reference.frequency = Hertz(1000.0);
    setup.coupler.emplace();
    setup.coupler->name = "coupler";
    setup.coupler->response = std::move(table);
    setup.coupler->references = {reference};
    return setup;
}

const SpectrumPoint& nearest(const SpectrumReading& s, double frequency_Hz)
{
    return *std::min_element(s.lines.begin(), s.lines.end(), [&](const SpectrumPoint& a, const SpectrumPoint& b) {
        return std::abs(a.frequency_Hz - frequency_Hz) < std::abs(b.frequency_Hz - frequency_Hz);
    });
}

const SpectrumPoint& highest(const SpectrumReading& s)
{
    return *std::max_element(s.lines.begin(), s.lines.end(), [](const SpectrumPoint& a, const SpectrumPoint& b) {
        return a.level_dB.value_or(-300.0) < b.level_dB.value_or(-300.0);
    });
}

} // namespace

TEST_CASE("without a reference a spectrum is dBFS, with one it is dB SPL, line by line and band by band")
{
    const auto h = heard(test::Truth{}.withSnr_dB(60.0));
    const auto plain = makeSpectrumReading(h.result, h.tone, {});
    CHECK_FALSE(plain.referenced);
    CHECK(plain.window == "flat-top HFT95");
    CHECK(plain.averages == 8);
    CHECK(plain.noiseBandwidth_Hz == Approx(3.8112 * 48000.0 / 32768.0).margin(0.001));
    CHECK(*highest(plain).level_dB == Approx(-20.0).margin(0.01));
    const auto absolute = makeSpectrumReading(h.result, h.tone, referenced(115.0));
    CHECK(absolute.referenced);
    CHECK_FALSE(absolute.responseTakenOut);
    REQUIRE(absolute.lines.size() == plain.lines.size());
    for (std::size_t i = 0; i < plain.lines.size(); ++i)
        CHECK(*absolute.lines[i].level_dB == Approx(*plain.lines[i].level_dB + 115.0));
    CHECK(*absolute.bands[17].level_dB == Approx(95.0).margin(0.02));
    Setup typed;
    typed.offset = TypedOffset{100.0, {}};
    CHECK(*highest(makeSpectrumReading(h.result, h.tone, typed)).level_dB == Approx(80.0).margin(0.01));
}

TEST_CASE("a spectrum's points ascend, one a slice, from 20 Hz to 20 kHz, and none hides a line that is higher")
{
    const auto h = heard(test::Truth{}.withSnr_dB(20.0));
    const auto s = makeSpectrumReading(h.result, h.tone, {});
    CHECK(s.lines.size() <= spectrumSlices);
    CHECK(s.lines.size() > 300); // below 250 Hz lines lie farther apart than slices
    CHECK(s.lines.front().frequency_Hz >= 20.0);
    CHECK(s.lines.back().frequency_Hz <= 20000.0);
    double seen = 0.0;
    for (std::size_t i = 0; i < s.lines.size(); ++i) {
        if (i > 0) {
            CHECK(s.lines[i].frequency_Hz > s.lines[i - 1].frequency_Hz);
        }
        seen = std::max(seen, powerRatioFrom_dB(*s.lines[i].level_dB));
    }
    const auto& powers = h.result.spectrum.powers;
    const auto from = powers.begin() + static_cast<std::ptrdiff_t>(20.0 / h.result.spectrum.lineSpacing_Hz) + 1;
    CHECK(seen == Approx(static_cast<double>(*std::max_element(from, powers.end()))));
}

TEST_CASE("the microphone's response is taken out of lines, bands and orders, and beyond its table nothing is said")
{
    test::Truth truth;
    truth.second = 0.01;
    const auto h = heard(truth.withSnr_dB(80.0));
    // 1 dB at the reference's frequency, 3 dB at the second order, straight between them over the logarithm.
    const auto setup =
        referenced(115.0, {{Hertz(100.0), 0.0}, {Hertz(1000.0), 1.0}, {Hertz(2000.0), 3.0}, {Hertz(2100.0), 3.0}});
    const auto with = makeSpectrumReading(h.result, h.tone, setup);
    const auto without = makeSpectrumReading(h.result, h.tone, referenced(115.0));
    CHECK(with.responseTakenOut);
    CHECK(*nearest(with, 1000.04).level_dB == Approx(95.0).margin(0.01));
    CHECK(*nearest(with, 1999.5).level_dB == Approx(*nearest(without, 1999.5).level_dB - 2.0).margin(0.01));
    CHECK(*nearest(with, 100.5).level_dB == Approx(*nearest(without, 100.5).level_dB + 1.0).margin(0.01));
    CHECK_FALSE(nearest(with, 50.0).level_dB);
    CHECK_FALSE(nearest(with, 5000.0).level_dB);
    CHECK(nearest(without, 5000.0).level_dB);
    CHECK(*with.bands[10].level_dB - *without.bands[10].level_dB == Approx(1.0 - 0.3).margin(0.01));
    CHECK_FALSE(with.bands[0].level_dB);
    REQUIRE(with.orders.size() == 9);
    CHECK(*without.orders[0].belowTone_dB == Approx(40.0).margin(0.02));
    CHECK(*without.orders[0].percent == Approx(1.0).margin(0.003));
    CHECK(*with.orders[0].belowTone_dB == Approx(42.0).margin(0.02));
    CHECK_FALSE(with.orders[1].belowTone_dB);
    // A table that does not reach the reference's own frequency cannot be used, as with a tone.
    const auto unused =
        makeSpectrumReading(h.result, h.tone, referenced(115.0, {{Hertz(2000.0), 0.0}, {Hertz(4000.0), 1.0}}));
    CHECK_FALSE(unused.responseTakenOut);
    CHECK(unused.lines == without.lines);
}

TEST_CASE("an order is told when it stands out of the noise beside it, and not when noise alone is there")
{
    test::Truth truth;
    truth.third = 1e-4;
    const auto quiet = heard(truth.withSnr_dB(70.0));
    const auto s = makeSpectrumReading(quiet.result, quiet.tone, {});
    REQUIRE(s.orders.size() == 9);
    CHECK(*s.orders[1].belowTone_dB == Approx(80.0).margin(0.5));
    CHECK(s.orders[1].frequency_Hz == Approx(3000.12).margin(0.01));
    for (const std::size_t other : {0, 2, 3, 4, 5, 6, 7, 8}) {
        CHECK_FALSE(s.orders[other].belowTone_dB);
        CHECK_FALSE(s.orders[other].percent);
    }
    const auto loud = heard(truth.withSnr_dB(20.0));
    for (const auto& order : makeSpectrumReading(loud.result, loud.tone, {}).orders)
        CHECK_FALSE(order.belowTone_dB);
}

// Noise whose low frequencies are 40 dB stronger: the fit's noise, of the whole band, would let it pass for orders.
TEST_CASE("coloured noise is no order either")
{
    test::Stream stream(test::Truth{48000.0, 137.3, 0.1}, 3);
    SplitMix64 seeds(8);
    Xoshiro256 random(seeds);
    int told = 0, readings = 0;
    double state = 0.0;
    for (int round = 0; round < 10; ++round) {
        auto samples = stream.seconds(3.0);
        for (float& sample : samples) {
            state = 0.97 * state + 0.001 * random.nextNormal();
            sample += static_cast<float>(state);
        }
        SpectrumMeter meter(48000.0);
        Analyser analyser(48000.0);
        meter.add(samples);
        analyser.add(samples.data(), nullptr, static_cast<int>(samples.size()), [](const Estimate&) {});
        for (const auto& order : makeSpectrumReading(meter.result(), analyser.latest().tone, {}).orders) {
            ++readings;
            told += order.belowTone_dB ? 1 : 0;
        }
    }
    CHECK(readings > 45); // the tone is not always held in such noise
    CHECK(told == 0);
}

TEST_CASE("orders end at half the sample rate, and there are none without a tone")
{
    test::Truth truth;
    truth.sampleRate_Hz = 44100.0;
    truth.tone_Hz = 5000.3;
    const auto h = heard(truth.withSnr_dB(60.0));
    CHECK(makeSpectrumReading(h.result, h.tone, {}).orders.size() == 3);
    CHECK(makeSpectrumReading(h.result, {}, {}).orders.empty());
}

TEST_CASE("before the first transform the spectrum says that it settles, and after broken samples what came")
{
    const auto h = heard(test::Truth{}, 0.5);
    const auto s = makeSpectrumReading(h.result, h.tone, {});
    CHECK(s.whyNot.find("settles") != std::string::npos);
    CHECK(s.lines.empty());
    SpectrumResult broken;
    broken.brokenSamples = 1;
    CHECK(makeSpectrumReading(broken, {}, {}).whyNot.find("not finite") != std::string::npos);
    CHECK(noSpectrum("for a reason").whyNot == "for a reason");
}

TEST_CASE("silence and absurd samples have no level rather than an infinite one")
{
    SpectrumMeter meter(48000.0);
    meter.add(std::vector<float>(3 * 48000));
    for (const auto& point : makeSpectrumReading(meter.result(), {}, {}).lines)
        CHECK_FALSE(point.level_dB);
    std::vector<float> absurd(3 * 48000, 1e38f);
    for (std::size_t i = 0; i < absurd.size(); i += 2)
        absurd[i] = -1e38f;
    absurd[100] = 0.0f;
    meter.add(absurd);
    for (const auto& point : makeSpectrumReading(meter.result(), {}, {}).lines)
        CHECK((!point.level_dB || std::isfinite(*point.level_dB)));
}
