// SPDX-License-Identifier: GPL-3.0-or-later
#include "Published/Table.h"
#include "Signal/FlatTop.h"
#include "Signal/SpectrumMeter.h"
#include "Sines.h"
#include "Stream.h"

#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <limits>
#include <sstream>
#include <stdexcept>

// Published figures: Heinzel, Ruediger and Schilling 2002; the table says how they were read.
using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rates_Hz[] = {8000.0, 22050.0, 32000.0, 44100.0, 48000.0, 88200.0, 96000.0, 192000.0, 384000.0};
constexpr double long_s = 2.5; // more than eight transforms at any rate

published::Row windowRow(const std::string& name)
{
    for (const auto& row : published::table("window_constants").rows)
        if (row.text("window") == name)
            return row;
    throw std::runtime_error("no window " + name);
}

// Of a sine that lies `bins` off a line, against one that lies on it.
double response(double bins)
{
    Phasor sum;
    constexpr int n = 4096;
    for (int i = 0; i < n; ++i)
        sum += flatTop((i + 0.0) / n) * unitPhasor(2.0 * pi * bins * i / n);
    return magnitude(sum) / n;
}

double highest_dB(const Spectrum& s)
{
    return decibelsOfPower(static_cast<double>(*std::max_element(s.powers.begin() + 10, s.powers.end())));
}

Spectrum spectrumOf(const std::vector<float>& samples, double rate_Hz)
{
    SpectrumAnalyser analyser(rate_Hz);
    analyser.add(samples);
    return analyser.spectrum();
}

} // namespace

TEST_CASE("the flat-top window has its published terms, bandwidth, flatness and sidelobes")
{
    const auto row = windowRow("HFT95");
    std::istringstream terms(row.text("a_k"));
    for (const double term : flatTopTerms) {
        double published = 0.0;
        REQUIRE(terms >> published);
        CHECK(std::abs(term) == published);
    }
    CHECK(flatTopNoiseBins() == Approx(row.number("stored_enbw")).margin(5e-5));
    double flatness_dB = 0.0, sidelobe = 0.0;
    for (double bins = 0.0; bins <= 0.5; bins += 0.01)
        flatness_dB = std::max(flatness_dB, std::abs(decibels(response(bins))));
    for (double bins = 5.0; bins <= 40.0; bins += 0.02)
        sidelobe = std::max(sidelobe, response(bins));
    CHECK(flatness_dB == Approx(row.number("stored_flatness_db")).margin(5e-5));
    CHECK(-decibels(sidelobe) == Approx(row.number("stored_sidelobe_db")).margin(0.1));
}

TEST_CASE("a sine's highest line has its level within 0.01 dB, wherever it lies between lines, at every rate")
{
    for (const double rate_Hz : rates_Hz)
        for (const double share : {0.0, 0.13, 0.25, 0.37, 0.5, 0.71}) {
            const double spacing_Hz = SpectrumAnalyser(rate_Hz).spectrum().lineSpacing_Hz;
            const double tone_Hz = (std::floor(1000.0 / spacing_Hz) + share) * spacing_Hz;
            const Spectrum s = spectrumOf(sine(tone_Hz, 1.0, 1.1, rate_Hz), rate_Hz);
            CAPTURE(rate_Hz, share);
            CHECK(s.averages >= 1);
            CHECK(highest_dB(s) == Approx(0.0).margin(0.01));
        }
    for (const double tone_Hz : {20.3, 63.7, 19990.0}) {
        CAPTURE(tone_Hz);
        CHECK(highest_dB(spectrumOf(sine(tone_Hz, 0.01, long_s, 48000.0), 48000.0)) == Approx(-40.0).margin(0.01));
    }
}

TEST_CASE("eight transforms of half to one second are averaged within three seconds, at every rate")
{
    for (const double rate_Hz : rates_Hz) {
        const Spectrum s = spectrumOf(std::vector<float>(static_cast<std::size_t>(2.9 * rate_Hz)), rate_Hz);
        CAPTURE(rate_Hz);
        CHECK(s.averages == SpectrumAnalyser::mostAverages);
        CHECK(s.length_s > 0.49);
        CHECK(s.length_s < 1.0);
        const double last_Hz = s.lineSpacing_Hz * static_cast<double>(s.powers.size() - 1);
        CHECK(last_Hz <= 20000.0);
        CHECK(last_Hz > std::min(20000.0, rate_Hz / 2.0) - 2.1 * s.lineSpacing_Hz);
    }
    CHECK(SpectrumAnalyser(44100.0).length() == 32768);
    CHECK(SpectrumAnalyser(48000.0).length() == 32768);
}

TEST_CASE("white noise stands in every line with its density times the effective noise bandwidth")
{
    for (const double rate_Hz : {8000.0, 48000.0, 96000.0}) {
        Truth truth;
        truth.sampleRate_Hz = rate_Hz;
        truth.amplitude = 0.0;
        truth.noise = 0.1;
        Stream stream(truth, 5);
        double sum = 0.0;
        std::size_t lines = 0;
        Spectrum s;
        for (int i = 0; i < 3; ++i) {
            s = spectrumOf(stream.seconds(long_s), rate_Hz);
            for (std::size_t k = 20; k + 20 < s.powers.size(); ++k, ++lines)
                sum += static_cast<double>(s.powers[k]) / 2.0;
        }
        const double density = truth.noise * truth.noise / (rate_Hz / 2.0);
        CAPTURE(rate_Hz);
        CHECK(decibelsOfPower(sum / static_cast<double>(lines) / (density * s.noiseBandwidth_Hz)) ==
              Approx(0.0).margin(0.1));
    }
}

TEST_CASE("blocks do not matter to a spectrum, and a gap begins its average anew")
{
    Stream stream(Truth{}.withSnr_dB(20.0), 3);
    const auto samples = stream.seconds(long_s);
    SpectrumMeter whole(48000.0), inPieces(48000.0);
    CHECK(whole.add(samples));
    for (std::size_t i = 0; i < samples.size(); i += 777)
        inPieces.add(std::span(samples).subspan(i, std::min<std::size_t>(777, samples.size() - i)));
    CHECK(whole.result().spectrum.powers == inPieces.result().spectrum.powers);
    for (std::size_t i = 0; i < thirdOctaves; ++i)
        CHECK(*whole.result().bands[i] == Approx(*inPieces.result().bands[i]).epsilon(1e-12));
    whole.restart();
    CHECK(whole.result().spectrum.averages == 0);
    CHECK(whole.result().spectrum.powers.empty());
    CHECK_FALSE(whole.result().bands[thirdOctaves - 1]);
    whole.add(sine(1000.0, 0.25, long_s, 48000.0));
    CHECK(highest_dB(whole.result().spectrum) == Approx(decibels(0.25)).margin(0.01));
}

TEST_CASE("a sample that is no sound ends what was averaged and leaves nothing of itself behind")
{
    for (const float bad :
         {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity(), 1e9f, -2e6f}) {
        SpectrumMeter meter(48000.0);
        auto samples = sine(1000.0, 0.5, 5.0, 48000.0);
        samples[2 * 48000] = samples[2 * 48000 + 1] = bad;
        meter.add(std::span(samples).first(2 * 48000 + 10));
        CHECK(meter.result().spectrum.averages == 0);
        CHECK(meter.result().brokenSamples == 2);
        meter.add(std::span(samples).subspan(2 * 48000 + 10));
        const auto result = meter.result();
        CHECK(result.spectrum.averages == SpectrumAnalyser::mostAverages);
        CHECK(highest_dB(result.spectrum) == Approx(decibels(0.5)).margin(0.01));
        CHECK(decibelsOfPower(2.0 * *result.bands[17]) == Approx(decibels(0.5)).margin(0.02));
    }
}
