// SPDX-License-Identifier: GPL-3.0-or-later
#include "InventedSpectrum.h"

#include "Quantities/Decibels.h"

#include <cmath>
#include <cstdint>

namespace couplet {
namespace {

constexpr double pi = 3.14159265358979323846;
constexpr int samples = 32768, averages = 4, slices = 480;

// HFT95's coefficients (Heinzel, Ruediger and Schilling 2002, appendix D; second-hand), about its middle.
constexpr std::array<double, 5> window{1.0, 1.9383379, 1.3045202, 0.4028270, 0.0350665};

double sinc(double x)
{
    return std::abs(x) < 1e-9 ? 1.0 : std::sin(pi * x) / (pi * x);
}

// What a sine so many lines away adds to a line, as a ratio of amplitudes.
double leakage(double away)
{
    double sum = window[0] * sinc(away);
    for (std::size_t k = 1; k < window.size(); ++k)
        sum += window[k] / 2.0 * (sinc(away - static_cast<double>(k)) + sinc(away + static_cast<double>(k)));
    return sum;
}

// In lines: 1 + half the sum of the squares of the others.
double noiseBandwidth()
{
    double sum = 1.0;
    for (std::size_t k = 1; k < window.size(); ++k)
        sum += window[k] * window[k] / 2.0;
    return sum;
}

struct Sine
{
    double frequency_Hz, level_dB;
};

std::vector<Sine> sinesOf(const InventedBench& bench)
{
    std::vector<Sine> sines;
    for (int order = 1; order <= 9; order += 2)
        sines.push_back({50.0 * order, bench.hum_dB - 7.0 * std::log2(order)});
    if (!bench.tone_dB)
        return sines;
    sines.push_back({bench.tone_Hz, *bench.tone_dB});
    for (std::size_t i = 0; i < bench.orders_percent.size(); ++i)
        sines.push_back({bench.tone_Hz * (static_cast<double>(i) + 2.0),
                         *bench.tone_dB + decibels(bench.orders_percent[i] / 100.0)});
    return sines;
}

// Power in 1 Hz: white, and as 1/f below 200 Hz; the white part alone has nearly all of the whole.
double noiseDensity(const InventedBench& bench, double frequency_Hz)
{
    return powerRatioFrom_dB(bench.noise_dB) / 19980.0 * (1.0 + 200.0 / frequency_Hz) * 0.93;
}

// The mean of squares of `averages` pairs of normal variates, as averaged lines have it.
double scattered(std::uint32_t& state)
{
    double sum = 0.0;
    for (int i = 0; i < averages; ++i) {
        state = state * 1664525u + 1013904223u;
        sum += -std::log((static_cast<double>(state >> 8) + 0.5) / 16777216.0);
    }
    return sum / averages;
}

void fillLines(SpectrumReading& s, const InventedBench& bench, const std::vector<Sine>& sines)
{
    const double line_Hz = bench.sampleRate_Hz / samples;
    std::uint32_t state = 1;
    int slice = -1;
    for (int n = static_cast<int>(std::ceil(20.0 / line_Hz)); n * line_Hz <= 20000.0; ++n) {
        const double f = n * line_Hz;
        double power = noiseDensity(bench, f) * s.noiseBandwidth_Hz * scattered(state);
        for (const auto& sine : sines) {
            const double ratio = leakage((f - sine.frequency_Hz) / line_Hz);
            power += powerRatioFrom_dB(sine.level_dB) * ratio * ratio;
        }
        SpectrumPoint point{f, decibelsOfPower(power) + bench.shift_dB};
        if (f < bench.tableFrom_Hz || f > bench.tableTo_Hz)
            point.level_dB.reset();
        const int mine = static_cast<int>(slices * std::log10(f / 20.0) / 3.0);
        if (mine != slice)
            s.lines.push_back(point);
        else if (point.level_dB > s.lines.back().level_dB) // what is absent is lowest
            s.lines.back() = point;
        slice = mine;
    }
}

void fillBands(SpectrumReading& s, const InventedBench& bench, const std::vector<Sine>& sines)
{
    constexpr double nominals[] = {20,   25,   31.5, 40,   50,   63,    80,    100,   125,  160,  200,
                                   250,  315,  400,  500,  630,  800,   1000,  1250,  1600, 2000, 2500,
                                   3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000};
    const double halfBand = std::pow(10.0, 0.05); // IEC 61260-1: bands of 10^(1/10)
    int index = 13;
    for (const double nominal : nominals) {
        const double middle = std::pow(10.0, index++ / 10.0), low = middle / halfBand, high = middle * halfBand;
        double power = noiseDensity(bench, middle) * (high - low);
        for (const auto& sine : sines)
            if (sine.frequency_Hz >= low && sine.frequency_Hz < high)
                power += powerRatioFrom_dB(sine.level_dB);
        BandReading band{nominal, middle, decibelsOfPower(power) + bench.shift_dB};
        if (low < bench.tableFrom_Hz || high > bench.tableTo_Hz)
            band.level_dB.reset();
        s.bands.push_back(band);
    }
}

} // namespace

SpectrumReading inventedSpectrum(const InventedBench& bench)
{
    SpectrumReading s;
    s.referenced = bench.referenced;
    s.responseTakenOut = bench.responseTakenOut;
    s.window = "flat-top HFT95";
    s.length_s = samples / bench.sampleRate_Hz;
    s.noiseBandwidth_Hz = noiseBandwidth() * bench.sampleRate_Hz / samples;
    s.averages = averages;
    s.bandsAveraged_s = 6.4;
    const auto sines = sinesOf(bench);
    fillLines(s, bench, sines);
    fillBands(s, bench, sines);
    for (int order = 2; bench.tone_dB && order <= 10 && order * bench.tone_Hz < bench.sampleRate_Hz / 2.0; ++order) {
        OrderReading reading{order, order * bench.tone_Hz, {}, {}};
        const auto index = static_cast<std::size_t>(order - 2);
        if (index < bench.orders_percent.size()) {
            reading.percent = bench.orders_percent[index];
            reading.belowTone_dB = -decibels(*reading.percent / 100.0);
        }
        s.orders.push_back(reading);
    }
    return s;
}

} // namespace couplet
