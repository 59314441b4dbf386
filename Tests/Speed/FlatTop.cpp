// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tables.h"
#include "Timing.h"

#include "Signal/CramerRao.h"
#include "Signal/ToneTracker.h"
#include "Speed/Targets.h"

#include <fftw3.h>
#include <fmt/format.h>

#include "Quantities/Decibels.h"

// What one would do otherwise: a real Fourier transform of the window under a flat-top window every 50 ms, and the
// level of its largest bin. FFTW plans by measuring.
namespace couplet::speed {
namespace {

volatile double sink;

// HFT95: Heinzel, Ruediger and Schilling 2002, appendix D (second-hand): flat to 0.004 dB.
double flatTop(double share)
{
    constexpr double a[] = {1.0, -1.9383379, 1.3045202, -0.4028270, 0.0350665};
    double w = 0.0;
    for (int k = 0; k < 5; ++k)
        w += a[k] * std::cos(2.0 * pi * k * share);
    return w;
}

template <class Real> struct Fftw;
template <> struct Fftw<double>
{
    using Complex = fftw_complex;
    using Plan = fftw_plan;
    static Plan plan(int n, double* in, Complex* out) { return fftw_plan_dft_r2c_1d(n, in, out, FFTW_MEASURE); }
    static void run(Plan p) { fftw_execute(p); }
    static void end(Plan p) { fftw_destroy_plan(p); }
};
template <> struct Fftw<float>
{
    using Complex = fftwf_complex;
    using Plan = fftwf_plan;
    static Plan plan(int n, float* in, Complex* out) { return fftwf_plan_dft_r2c_1d(n, in, out, FFTW_MEASURE); }
    static void run(Plan p) { fftwf_execute(p); }
    static void end(Plan p) { fftwf_destroy_plan(p); }
};

template <class Real> class FlatTopMeter
{
public:
    explicit FlatTopMeter(int samples)
        : n(samples), window(idx(n)), in(idx(n)), out(reinterpret_cast<typename Fftw<Real>::Complex*>(fftw_malloc(
                                                      sizeof(typename Fftw<Real>::Complex) * idx(n / 2 + 1)))),
          plan(Fftw<Real>::plan(n, in.data(), out))
    {
        double sum = 0.0;
        for (int i = 0; i < n; ++i) {
            window[idx(i)] = static_cast<Real>(flatTop((i + 0.5) / n));
            sum += static_cast<double>(window[idx(i)]);
        }
        for (Real& w : window)
            w = static_cast<Real>(2.0 * static_cast<double>(w) / sum);
    }
    FlatTopMeter(const FlatTopMeter&) = delete;
    FlatTopMeter& operator=(const FlatTopMeter&) = delete;
    ~FlatTopMeter()
    {
        Fftw<Real>::end(plan);
        fftw_free(out);
    }

    double amplitude(const float* samples)
    {
        for (int i = 0; i < n; ++i)
            in[idx(i)] = static_cast<Real>(samples[i]) * window[idx(i)];
        Fftw<Real>::run(plan);
        Real largest = 0;
        for (int k = 1; k <= n / 2; ++k)
            largest = std::max(largest, out[k][0] * out[k][0] + out[k][1] * out[k][1]);
        return std::sqrt(static_cast<double>(largest));
    }

private:
    static std::size_t idx(int i) { return static_cast<std::size_t>(i); }
    int n;
    std::vector<Real> window, in;
    typename Fftw<Real>::Complex* out;
    typename Fftw<Real>::Plan plan;
};

constexpr int windowLength = 48000, hop = 2400;

template <class Real> double nanosecondsASample(const std::vector<float>& samples)
{
    FlatTopMeter<Real> meter(windowLength);
    int hops = 0;
    const double seconds = leastSeconds([&] {
        hops = 0;
        for (std::size_t i = 0; i + windowLength <= samples.size(); i += hop, ++hops)
            sink = meter.amplitude(&samples[i]);
    });
    return 1e9 * seconds / (static_cast<double>(hops) * hop);
}

struct Scatter
{
    double bias_dB, deviation_dB;
};
Scatter scatterOf(const std::vector<double>& levels)
{
    double sum = 0.0, squares = 0.0;
    for (const double level : levels) {
        sum += level;
        squares += level * level;
    }
    const double n = static_cast<double>(levels.size()), mean = sum / n;
    return {mean, std::sqrt(squares / n - mean * mean)};
}

} // namespace

std::string flatTopTable()
{
    // 25 s hold whole cycles of the tone and of the hum, so that they may be heard again and again as one stream. Neither
    // the tracker's making and finding nor FFTW's planning is part of the cost.
    const auto samples = usualSamples(25.0);
    ToneTracker follower(48000.0, 1.0);
    const double ours = 1e9 * leastSeconds([&] {
                            for (std::size_t i = 0; i + chunkLength <= samples.size(); i += chunkLength)
                                follower.add(&samples[i], folded(&samples[i]));
                            sink = follower.estimate().amplitude;
                        }) /
                        static_cast<double>(samples.size());
    const double inDouble = nanosecondsASample<double>(samples), inFloat = nanosecondsASample<float>(samples);

    test::Truth truth;
    truth.tone_Hz = 1000.43; // between two bins
    truth.withSnr_dB(40.0);
    test::Stream stream(truth, 9);
    ToneTracker tracker(48000.0, 1.0);
    FlatTopMeter<double> meter(windowLength);
    std::vector<double> fitted, transformed;
    for (int window = 0; window < 300; ++window) {
        const auto second = stream.seconds(1.0);
        for (std::size_t i = 0; i < second.size(); i += chunkLength)
            tracker.add(&second[i], folded(&second[i]));
        if (window < 2)
            continue;
        fitted.push_back(decibels(tracker.estimate().amplitude / truth.amplitude));
        transformed.push_back(decibels(meter.amplitude(second.data()) / truth.amplitude));
    }
    const double bound = test::jointBound(truth, windowLength).level_dB;
    const Scatter fit = scatterOf(fitted), transform = scatterOf(transformed);
    const std::string by = "Beside a Fourier transform, below";
    targets::reached(targets::transform, inDouble / ours, by);
    targets::reached(targets::single, inFloat / ours, by);
    targets::reached(targets::transformScatter, fit.deviation_dB / transform.deviation_dB, by);
    return fmt::format(
        "| Level of a tone, window of 1 s every 50 ms, 48 kHz | ns a sample | times ours | scatter over the "
        "bound (40 dB) | bias |\n|---|---|---|---|---|\n"
        "| joint fit, with frequency, harmonics and hum | {:.1f} | 1 | {:.2f} | {:+.5f} dB |\n"
        "| flat-top transform, double | {:.1f} | {:.1f} | {:.2f} | {:+.5f} dB |\n"
        "| flat-top transform, single | {:.1f} | {:.1f} | | |\n",
        ours, fit.deviation_dB / bound, fit.bias_dB, inDouble, inDouble / ours, transform.deviation_dB / bound,
        transform.bias_dB, inFloat, inFloat / ours);
}

} // namespace couplet::speed
