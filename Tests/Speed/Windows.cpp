// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tables.h"
#include "Timing.h"

#include "Signal/Analyser.h"
#include "Speed/Targets.h"

#include <fmt/format.h>

#include <array>

namespace couplet::speed {
namespace {

volatile double sink;

// After the window has filled.
double nanosecondsAFrame(double sampleRate_Hz, double window_s, int block)
{
    const auto samples = usualSamples(2.0, sampleRate_Hz);
    Analyser analyser(sampleRate_Hz, window_s);
    const auto feed = [&] {
        for (std::size_t i = 0; i + static_cast<std::size_t>(block) <= samples.size();
             i += static_cast<std::size_t>(block))
            analyser.add(&samples[i], &samples[i], block, [](const Estimate& e) { sink = e.tone.amplitude; });
    };
    for (double heard_s = 0.0; heard_s < window_s + 1.0; heard_s += 2.0)
        feed();
    return 1e9 * leastSeconds(feed) / static_cast<double>(samples.size());
}

} // namespace

// Two seconds again and again make a click every two seconds; it costs every row alike.
std::string windowsTable()
{
    std::string table = "| ns a frame, 48 kHz | 0.1 s | 1 s | 10 s |\n|---|---|---|---|\n";
    double shortest = 0.0, longest = 0.0;
    for (const int block : {16, 64, 512, 1024}) {
        table += fmt::format("| blocks of {} |", block);
        for (const double window_s : {0.1, 1.0, 10.0}) {
            const double ns = nanosecondsAFrame(48000.0, window_s, block);
            (window_s < 1.0 ? shortest : longest) += window_s != 1.0 ? ns : 0.0;
            table += fmt::format(" {:.1f} |", ns);
        }
        table += "\n";
    }
    targets::reached(targets::windows, longest / shortest, "Windows, blocks and rates, below");
    table += "\n| rate, window of 1 s, blocks of 512 | ns a frame | share of a core |\n|---|---|---|\n";
    for (const double rate_Hz : {44100.0, 48000.0, 96000.0, 192000.0}) {
        const double ns = nanosecondsAFrame(rate_Hz, 1.0, 512);
        table += fmt::format("| {:g} kHz | {:.1f} | {:.2f} % |\n", rate_Hz / 1000.0, ns, 1e-7 * ns * rate_Hz);
    }
    return table;
}

} // namespace couplet::speed
