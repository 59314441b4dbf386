// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tables.h"
#include "Timing.h"

#include "Signal/Analyser.h"
#include "Speed/Targets.h"

#include <fmt/format.h>

namespace couplet::speed {
namespace {

constexpr int blockLength = 16;

// Jumps, silence, strong hum of either family: whatever makes the tracker search.
std::vector<float> restless(double sampleRate_Hz)
{
    test::Truth truth = usualTruth(sampleRate_Hz);
    test::Stream stream(truth, 3);
    std::vector<float> samples;
    const double tones_Hz[] = {1000.04, 1013.0, 110.0, 7000.0, 35.0, 500.01, 0.0, 2000.0};
    for (int i = 0; i < 16; ++i) {
        truth.tone_Hz = tones_Hz[i % 8];
        truth.amplitude = truth.tone_Hz > 0.0 ? 0.1 : 0.0;
        truth.hum_Hz = i < 8 ? 50.0 : 60.0;
        truth.hum = i % 3 == 0 ? 0.1 : 0.001;
        stream.set(truth);
        const auto more = stream.seconds(0.4);
        samples.insert(samples.end(), more.begin(), more.end());
    }
    return samples;
}

struct Longest
{
    double all_us = 0.0, mean_us = 0.0;
};

// Each run does the same work at the same callbacks; the least of each is free of what else the machine did.
Longest longestOf(double sampleRate_Hz)
{
    const auto samples = restless(sampleRate_Hz);
    const std::size_t callbacks = samples.size() / blockLength;
    std::vector<double> least(callbacks, 1e9);
    for (int run = 0; run < runs; ++run) {
        Analyser analyser(sampleRate_Hz, 1.0);
        for (std::size_t i = 0; i < callbacks; ++i) {
            const auto start = std::chrono::steady_clock::now();
            analyser.add(&samples[i * blockLength], &samples[i * blockLength], blockLength, [](const Estimate&) {});
            const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
            least[i] = std::min(least[i], took.count());
        }
    }
    Longest result;
    for (const double s : least) {
        result.all_us = std::max(result.all_us, 1e6 * s);
        result.mean_us += 1e6 * s / static_cast<double>(callbacks);
    }
    return result;
}

} // namespace

std::string callbacksTable()
{
    std::string table =
        "| rate | a callback of 16 lasts | longest work in one | share | mean |\n|---|---|---|---|---|\n";
    double worst_percent = 0.0;
    for (const double rate_Hz : {48000.0, 96000.0, 192000.0}) {
        const Longest longest = longestOf(rate_Hz);
        const double lasts_us = 1e6 * blockLength / rate_Hz;
        table += fmt::format("| {:g} kHz | {:.0f} us | {:.1f} us | {:.0f} % | {:.2f} us |\n", rate_Hz / 1000.0,
                             lasts_us, longest.all_us, 100.0 * longest.all_us / lasts_us, longest.mean_us);
        worst_percent = targets::larger(worst_percent, 100.0 * longest.all_us / lasts_us);
    }
    targets::reached(targets::callback, worst_percent, "The longest callback, below, at 192 kHz");
    return table;
}

} // namespace couplet::speed
