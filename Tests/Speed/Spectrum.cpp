// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tables.h"
#include "Timing.h"

#include "Plugin/SampleFeed.h"
#include "Signal/SpectrumMeter.h"

#include <fmt/format.h>

// What looking at the spectrum costs: the worker's transforms and filter bank, and the copy on the audio thread.
namespace couplet::speed {
namespace {

constexpr int blockLength = 512;
volatile double sink;

// Each lasts for one transform, once the first has been done.
double transformSeconds(double sampleRate_Hz, const std::vector<float>& samples)
{
    SpectrumAnalyser analyser(sampleRate_Hz);
    const std::size_t step = analyser.length() / SpectrumAnalyser::overlapParts;
    analyser.add(std::span(samples).first(analyser.length()));
    return leastSeconds([&] {
        analyser.add(std::span(samples).first(step));
        sink = static_cast<double>(analyser.spectrum().powers[100]);
    });
}

double bankSeconds(double sampleRate_Hz, const std::vector<float>& second)
{
    ThirdOctaveBank bank(sampleRate_Hz);
    constexpr std::size_t piece = 8192; // as the worker has them
    return leastSeconds([&] {
        for (std::size_t i = 0; i < second.size(); i += piece)
            bank.add(std::span(second).subspan(i, std::min(piece, second.size() - i)));
        sink = bank.powers()[17].value_or(0.0);
    });
}

// The worker that takes what was written is another thread; here it is left out of the time.
double writeSeconds(double sampleRate_Hz, const std::vector<float>& second, bool wanted)
{
    SampleFeed feed(sampleRate_Hz);
    feed.want(wanted);
    double least = 1e9;
    for (int run = 0; run < runs; ++run) {
        feed.write(second.data(), 1);
        feed.endBreak();
        const auto start = std::chrono::steady_clock::now();
        for (std::size_t i = 0; i + blockLength <= second.size(); i += blockLength)
            feed.write(&second[i], blockLength);
        least = std::min(least, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
        while (feed.take(blockLength, [](std::span<const float> some) { sink = static_cast<double>(some[0]); })) {
        }
    }
    return least;
}

} // namespace

std::string spectrumTable()
{
    std::string table = "| rate | samples a transform | one transform | transforms a second | filter bank, a second of "
                        "audio | both, of a core | copy on the audio thread, ns a frame | while nobody looks |\n"
                        "|---|---|---|---|---|---|---|---|\n";
    for (const double rate_Hz : {44100.0, 48000.0, 96000.0, 192000.0, 384000.0}) {
        const auto second = usualSamples(1.0, rate_Hz);
        const std::size_t length = SpectrumAnalyser(rate_Hz).length();
        const double each_s = rate_Hz * SpectrumAnalyser::overlapParts / static_cast<double>(length);
        const double transform_s = transformSeconds(rate_Hz, second), bank_s = bankSeconds(rate_Hz, second);
        const auto perFrame_ns = [&](bool wanted) {
            return 1e9 * writeSeconds(rate_Hz, second, wanted) / static_cast<double>(second.size());
        };
        table += fmt::format("| {:g} kHz | {} | {:.2f} ms | {:.1f} | {:.1f} ms | {:.1f} % | {:.2f} | {:.2f} |\n",
                             rate_Hz / 1000.0, length, 1e3 * transform_s, each_s, 1e3 * bank_s,
                             100.0 * (transform_s * each_s + bank_s), perFrame_ns(true), perFrame_ns(false));
    }
    return table;
}

} // namespace couplet::speed
