// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tables.h"

#include "Signal/Scatter.h"
#include "Speed/Targets.h"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <thread>

namespace couplet::speed {
namespace {

constexpr int windows = 600; // standard error 2.9 %

// Nothing is timed here, so every core may help.
std::vector<test::Scatter> scattersOf(const std::vector<test::Cell>& cells)
{
    std::vector<test::Scatter> all(cells.size());
    std::atomic<std::size_t> next{cells.size()}; // the longest first
    std::vector<std::jthread> helpers;
    for (unsigned i = 0; i < std::max(1u, std::thread::hardware_concurrency()); ++i)
        helpers.emplace_back([&] {
            for (std::size_t left = next.load(); left > 0; left = next.load())
                if (next.compare_exchange_strong(left, left - 1))
                    all[left - 1] = test::scatterOf(cells[left - 1], windows);
        });
    helpers.clear();
    return all;
}

void noteTargets(const std::vector<test::Scatter>& all)
{
    double levels = 0.0, frequencies = 0.0, level = 0.0, frequency = 0.0, bias = 0.0;
    for (const test::Scatter& s : all) {
        levels += s.levelRatio() * s.levelRatio() / static_cast<double>(all.size());
        frequencies += s.frequencyRatio() * s.frequencyRatio() / static_cast<double>(all.size());
        level = targets::larger(level, s.levelRatio());
        frequency = targets::larger(frequency, s.frequencyRatio());
        bias = targets::larger(bias, std::abs(s.levelBias_dB) / s.mostBias_dB());
    }
    const std::string by = "Scatter, below; the tone scatters as the joint Cramer-Rao bound allows over the whole grid";
    targets::reached(targets::level, std::sqrt(levels), by);
    targets::reached(targets::levelCell, level, by);
    targets::reached(targets::frequency, std::sqrt(frequencies), by);
    targets::reached(targets::frequencyCell, frequency, by);
    targets::reached(targets::bias, bias, by);
}

} // namespace

// Level and frequency, as '1.00 / 1.02'; a row for each tone, window and rate, a column for each ratio.
std::string scatterTable()
{
    const auto cells = test::wholeGrid();
    const auto all = scattersOf(cells);
    noteTargets(all);
    std::string table;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const auto isOfRow = [&](const test::Cell& c) {
            return c.window_s == cells[i].window_s && c.tone_Hz == cells[i].tone_Hz &&
                   c.sampleRate_Hz == cells[i].sampleRate_Hz;
        };
        if (i == 0 || cells[i].sampleRate_Hz != cells[i - 1].sampleRate_Hz) {
            std::string head, rule = "|---|---|";
            for (std::size_t k = i; k < cells.size() && isOfRow(cells[k]); ++k) {
                head += fmt::format(" {:g} dB |", cells[k].snr_dB);
                rule += "---|";
            }
            table += fmt::format("{}| window, {:g} kHz | tone |{}\n{}\n", i == 0 ? "" : "\n",
                                 cells[i].sampleRate_Hz / 1000.0, head, rule);
        }
        if (i == 0 || !isOfRow(cells[i - 1]))
            table += fmt::format("| {:g} s | {:g} Hz |", cells[i].window_s, cells[i].tone_Hz);
        table += fmt::format(" {:.2f} / {:.2f} |", all[i].levelRatio(), all[i].frequencyRatio());
        if (i + 1 == cells.size() || !isOfRow(cells[i + 1]))
            table += "\n";
    }
    return table;
}

} // namespace couplet::speed
