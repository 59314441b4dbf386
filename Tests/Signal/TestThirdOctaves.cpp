// SPDX-License-Identifier: GPL-3.0-or-later
#include "Published/Table.h"
#include "Signal/ThirdOctaveBank.h"
#include "Sines.h"
#include "Stream.h"

#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

// Published figures: IEC 61260-1:2014 and ISO 266; the tables say how they were read.
using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double long_s = 4.5;
constexpr std::size_t band20Hz = 0, band1kHz = 17, band16kHz = 29, band20kHz = 30;

BandPowers powersOf(const std::vector<float>& samples, double rate_Hz)
{
    ThirdOctaveBank bank(rate_Hz);
    bank.add(samples);
    return bank.powers();
}

// Every band's level of one full-scale sine.
BandPowers responses(double frequency_Hz, double rate_Hz, double seconds = 2.3)
{
    return powersOf(sine(frequency_Hz, std::sqrt(2.0), seconds, rate_Hz), rate_Hz);
}

bool isThere(std::size_t band, double rate_Hz)
{
    return thirdOctave(band).upper_Hz <= 0.46667 * rate_Hz;
}

struct Limits
{
    double least_dB, most_dB;
};

// Of third octaves, at a frequency over its midband.
Limits limitsAt(double omega)
{
    static const auto table = published::table("iec61260_1_2014_class1");
    const double g = std::pow(10.0, 0.3), share = (std::pow(g, 1.0 / 6.0) - 1.0) / (std::sqrt(g) - 1.0);
    const auto place = [&](const published::Row& row) {
        return std::log10(1.0 + share * (std::pow(g, row.number("exponent")) - 1.0));
    };
    const double x = std::abs(std::log10(omega));
    for (std::size_t i = 1; i < table.rows.size(); ++i) {
        const auto &below = table.rows[i - 1], &above = table.rows[i];
        if (x > place(above) || place(below) == place(above))
            continue;
        const double t = (x - place(below)) / (place(above) - place(below));
        const auto between = [&](const char* column) {
            const double from = below.number(column), to = above.number(column);
            return std::isinf(from) || std::isinf(to) ? to : from + t * (to - from);
        };
        return {between("least_db"), between("most_db")};
    }
    return {table.rows.back().number("least_db"), table.rows.back().number("most_db")};
}

// Each band's attenuation of sines at every 1/perDecade of a decade.
void checkClass1(double rate_Hz, int perDecade)
{
    for (int step = perDecade; step <= 5 * perDecade; ++step) {
        const double f = std::pow(10.0, static_cast<double>(step) / perDecade);
        if (f > 0.499 * rate_Hz)
            break;
        const BandPowers powers = responses(f, rate_Hz);
        for (std::size_t i = 0; i < thirdOctaves; ++i) {
            const double omega = f / thirdOctave(i).midband_Hz;
            const bool onEdge = std::abs(std::abs(std::log10(omega)) - 0.05) < 1e-9; // both rows of limits meet there
            REQUIRE(powers[i].has_value() == isThere(i, rate_Hz));
            if (!powers[i] || onEdge)
                continue;
            const double attenuation_dB = -decibelsOfPower(std::max(*powers[i], 1e-12));
            const Limits limits = limitsAt(omega);
            if (attenuation_dB < limits.least_dB || attenuation_dB > limits.most_dB) {
                CAPTURE(rate_Hz, f, thirdOctave(i).nominal_Hz, attenuation_dB, limits.least_dB, limits.most_dB);
                CHECK(false);
            }
        }
    }
}

} // namespace

TEST_CASE("third octaves have the nominal frequencies of ISO 266 and the midbands and edges of IEC 61260-1")
{
    std::size_t index = 0;
    for (const auto& row : published::table("iso266_iec61260_midbands").rows) {
        if (row.number("nominal_hz") < 20.0)
            continue;
        REQUIRE(index < thirdOctaves);
        const ThirdOctave band = thirdOctave(index++);
        CHECK(band.nominal_Hz == Approx(row.number("nominal_hz")).epsilon(1e-12));
        CHECK(band.midband_Hz == Approx(row.number("exact_hz")).epsilon(1e-9));
        CHECK(band.lower_Hz == Approx(row.number("lower_edge_hz")).epsilon(1e-6));
        CHECK(band.upper_Hz == Approx(row.number("upper_edge_hz")).epsilon(1e-6));
    }
    CHECK(index == thirdOctaves);
}

TEST_CASE("every third-octave filter is within class 1 of IEC 61260-1 from 10 Hz to half the sample rate")
{
    for (const double rate_Hz : {8000.0, 44100.0, 48000.0})
        checkClass1(rate_Hz, 61);
}

TEST_CASE("third-octave filters are within class 1 at every other usual rate and on a finer grid", "[.long]")
{
    for (const double rate_Hz : {11025.0, 16000.0, 22050.0, 32000.0, 88200.0, 96000.0, 176400.0, 192000.0, 384000.0})
        checkClass1(rate_Hz, 61);
    for (const double rate_Hz : {44100.0, 47980.0, 48000.0})
        checkClass1(rate_Hz, 241);
}

TEST_CASE("at its midband a filter passes a sine whole and at its edges half of it, at every rate")
{
    for (const double rate_Hz : {8000.0, 44100.0, 48000.0, 96000.0, 384000.0})
        for (const std::size_t i : {band20Hz, std::size_t{7}, band1kHz, std::size_t{22}, band16kHz, band20kHz}) {
            const ThirdOctave band = thirdOctave(i);
            const auto atMidband = responses(band.midband_Hz, rate_Hz, long_s)[i];
            CAPTURE(rate_Hz, band.nominal_Hz);
            REQUIRE(atMidband.has_value() == isThere(i, rate_Hz));
            if (!atMidband)
                continue;
            // An average of 1 s leaves a sine's square some of its ripple at twice the frequency.
            CHECK(decibelsOfPower(*atMidband) == Approx(0.0).margin(0.01 + 0.5 / band.midband_Hz));
            for (const double edge_Hz : {band.lower_Hz, band.upper_Hz})
                CHECK(decibelsOfPower(*responses(edge_Hz, rate_Hz, long_s)[i]) ==
                      Approx(-3.01).margin(0.01 + 0.5 / band.midband_Hz));
        }
}

// Levels by scipy 1.10: butter(3, [lower, upper], 'bandpass', fs=fs, output='sos') and sosfreqz at the neighbours'
// midbands, with fs = 6 kHz for 1 kHz, 96 kHz for 20 kHz and 187.5 Hz for 20 Hz.
TEST_CASE("neighbouring bands see of a sine what Butterworth leaves of it")
{
    struct Leak
    {
        std::size_t band;
        int away; // of the sine, in bands
        double level_dB;
    };
    constexpr Leak leaks[] = {{band1kHz, -6, -70.2568},  {band1kHz, -3, -46.8852},  {band1kHz, -2, -35.5840},
                              {band1kHz, -1, -17.6149},  {band1kHz, 1, -19.4790},   {band1kHz, 2, -41.1366},
                              {band1kHz, 3, -58.4410},   {band20kHz, -3, -45.8507}, {band20kHz, -2, -34.7624},
                              {band20kHz, -1, -17.2045}, {band20Hz, -1, -18.0279},  {band20Hz, 1, -18.7422},
                              {band20Hz, 2, -38.4715},   {band20Hz, 3, -51.8550}};
    for (const Leak& leak : leaks) {
        const double f = thirdOctave(leak.band).midband_Hz * std::pow(10.0, leak.away / 10.0);
        CAPTURE(thirdOctave(leak.band).nominal_Hz, leak.away);
        CHECK(decibelsOfPower(*responses(f, 48000.0)[leak.band]) == Approx(leak.level_dB).margin(0.05));
    }
}

TEST_CASE("pink noise is equal in all bands, at 44.1 kHz up to 16 kHz and at 48 kHz up to 20 kHz")
{
    for (const double rate_Hz : {44100.0, 48000.0}) {
        PinkNoise noise(4);
        ThirdOctaveBank bank(rate_Hz);
        std::array<double, thirdOctaves> sums{};
        constexpr int seconds = 60;
        std::vector<float> second(static_cast<std::size_t>(rate_Hz));
        for (int s = -4; s < seconds; ++s) {
            for (float& sample : second)
                sample = noise.next(0.05);
            bank.add(second);
            for (std::size_t i = 0; s >= 0 && i < thirdOctaves; ++i)
                sums[i] += bank.powers()[i].value_or(0.0) / seconds;
        }
        CHECK((sums[band20kHz] > 0.0) == (rate_Hz > 44100.0));
        double mean_dB = 0.0;
        for (std::size_t i = 10; i < 25; ++i)
            mean_dB += decibelsOfPower(sums[i]) / 15.0;
        for (std::size_t i = 0; i < thirdOctaves; ++i) {
            if (!(sums[i] > 0.0))
                continue;
            // Noise of the width B over T scatters by 4.34 / sqrt(B T) dB; the noise itself is pink within 0.3 dB.
            const double scatter_dB = 4.34 / std::sqrt(thirdOctave(i).width_Hz() * seconds);
            CAPTURE(rate_Hz, thirdOctave(i).nominal_Hz);
            CHECK(std::abs(decibelsOfPower(sums[i]) - mean_dB) < 0.3 + 3.5 * scatter_dB);
        }
    }
}

TEST_CASE("a band has no value before it has settled: 1 s and a little for high ones, 2.2 s at 20 Hz")
{
    ThirdOctaveBank bank(48000.0);
    bank.add(sine(1000.0, 0.5, 0.99, 48000.0));
    for (const auto& power : bank.powers())
        CHECK_FALSE(power);
    bank.add(sine(1000.0, 0.5, 0.1, 48000.0));
    CHECK(bank.powers()[band20kHz]);
    CHECK_FALSE(bank.powers()[band20Hz]);
    bank.add(sine(1000.0, 0.5, 1.11, 48000.0));
    for (const auto& power : bank.powers())
        CHECK(power);
    bank.restart();
    for (const auto& power : bank.powers())
        CHECK_FALSE(power);
}

TEST_CASE("silence after a loud sound does not slow a bank down, nor leave anything in it")
{
    ThirdOctaveBank bank(48000.0);
    bank.add(sine(1000.0, 1.0, 2.0, 48000.0));
    const std::vector<float> second(48000);
    for (int s = 0; s < 60; ++s)
        bank.add(second);
    for (const auto& power : bank.powers())
        CHECK(*power < 1e-20);
}

TEST_CASE("in silence a band's power ends at nothing instead of falling for ever")
{
    ThirdOctaveBank bank(8000.0);
    bank.add(sine(1000.0, 1.0, 3.0, 8000.0));
    const std::vector<float> second(8000);
    for (int s = 0; s < 90; ++s) // 390 dB at 4.3 dB/s
        bank.add(second);
    for (const auto& power : bank.powers())
        CHECK(power.value_or(0.0) == 0.0);
    for (int s = 0; s < 10; ++s)
        bank.add(sine(1000.0, 1.0, 1.0, 8000.0));
    CHECK(decibelsOfPower(2.0 * *bank.powers()[band1kHz]) == Approx(0.0).margin(0.02));
}
