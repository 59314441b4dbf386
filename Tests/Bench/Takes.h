// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/StretchFinder.h"
#include "Signal/Analyser.h"
#include "Signal/Stream.h"

#include <cmath>
#include <functional>
#include <vector>

// Purpose: takes of a tone that something is done to, sample by sample, and what is heard of them. The truth is what was
//          put in: 1000.04 Hz, -20 dBFS, noise 60 dB below.
namespace couplet::tests {

inline constexpr double takeRate_Hz = 48000.0, toneAmplitude = 0.1;

using Samples = std::vector<float>;
using SampleChange = std::function<double(double x, double t)>;

inline double ratioOf(double dB)
{
    return std::pow(10.0, dB / 20.0);
}

inline Samples toneWith(double seconds, const SampleChange& change, double tone_Hz = 1000.04)
{
    test::Truth truth;
    truth.tone_Hz = tone_Hz;
    truth.amplitude = toneAmplitude;
    test::Stream stream(truth, 3);
    test::Truth noise;
    noise.amplitude = 0.0;
    noise.noise = 7e-5;
    test::Stream beside(noise, 4);
    Samples take(static_cast<std::size_t>(seconds * takeRate_Hz));
    for (std::size_t i = 0; i < take.size(); ++i)
        take[i] = static_cast<float>(change(static_cast<double>(stream.next()), static_cast<double>(i) / takeRate_Hz) +
                                     static_cast<double>(beside.next()));
    return take;
}

inline ToneSummary heardIn(const Samples& take)
{
    Analyser analyser(takeRate_Hz);
    StretchFinder finder;
    const auto add = [&](const Estimate& e) { finder.add(e); };
    analyser.add(take.data(), nullptr, static_cast<int>(take.size()), add);
    analyser.finish(add);
    return finder.summary();
}

} // namespace couplet::tests
