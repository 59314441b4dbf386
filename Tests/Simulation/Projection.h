// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>
#include <complex>
#include <numbers>
#include <span>

// Purpose: a tone's complex amplitude by plain correlation with exp(-j w n) over the whole stretch: slow, and
// owing
//          nothing to the estimator under test elsewhere. Exact for whole periods, nearly so for thousands.
namespace couplet::test {

inline std::complex<double> projection(std::span<const float> samples, double frequency_Hz, double sampleRate_Hz)
{
    const double w = 2.0 * std::numbers::pi * frequency_Hz / sampleRate_Hz;
    std::complex<double> sum = 0.0;
    for (std::size_t n = 0; n < samples.size(); ++n)
        sum += static_cast<double>(samples[n]) * std::polar(1.0, -w * static_cast<double>(n));
    return 2.0 * sum / static_cast<double>(samples.size());
}

inline double amplitudeAt(std::span<const float> samples, double frequency_Hz, double sampleRate_Hz)
{
    return std::abs(projection(samples, frequency_Hz, sampleRate_Hz));
}

inline double levelAt_dBFS(std::span<const float> samples, double frequency_Hz, double sampleRate_Hz)
{
    return 20.0 * std::log10(amplitudeAt(samples, frequency_Hz, sampleRate_Hz));
}

} // namespace couplet::test
