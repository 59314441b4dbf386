// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/HalfBand.h"

#include "Signal/Kaiser.h"
#include "Signal/Sizes.h"

#include <cmath>

namespace couplet {
namespace {

constexpr double stopBand_dB = 90.0;

void dropFront(std::vector<double>& line, std::size_t count)
{
    line.erase(line.begin(), line.begin() + static_cast<std::ptrdiff_t>(count));
}

} // namespace

std::vector<double> halfBandTaps(std::size_t count)
{
    const double beta = 0.1102 * (stopBand_dB - 8.7); // Kaiser 1974, from memory
    const double end = 2.0 * static_cast<double>(count);
    std::vector<double> taps(count);
    double sum = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        const double offset = 2.0 * static_cast<double>(i) + 1.0, share = offset / end;
        const double window = kaiser(share, beta);
        taps[i] = (i % 2 == 0 ? 1.0 : -1.0) / (pi * offset) * window;
        sum += 2.0 * taps[i];
    }
    for (double& tap : taps) // a constant comes out as it went in
        tap *= 0.5 / sum;
    return taps;
}

void Halver::run(std::vector<double>& samples)
{
    const std::size_t reach = 2 * odd.size() - 1;
    line.insert(line.end(), samples.begin(), samples.end());
    samples.clear();
    std::size_t first = 0;
    for (; first + 2 * reach < line.size(); first += 2) {
        const double* centre = &line[first + reach];
        double y = 0.5 * *centre;
        for (std::size_t i = 0; i < odd.size(); ++i) {
            const auto offset = static_cast<std::ptrdiff_t>(2 * i + 1);
            y += odd[i] * (centre[-offset] + centre[offset]);
        }
        samples.push_back(y);
    }
    dropFront(line, first);
}

void Doubler::run(const std::vector<double>& samples, std::vector<double>& twice)
{
    line.insert(line.end(), samples.begin(), samples.end());
    twice.clear();
    std::size_t first = 0;
    for (; first + 2 * odd.size() <= line.size(); ++first) {
        const double* below = &line[first + odd.size() - 1];
        double y = 0.0;
        for (std::size_t i = 0; i < odd.size(); ++i) {
            const auto offset = static_cast<std::ptrdiff_t>(i);
            y += odd[i] * (below[-offset] + below[1 + offset]);
        }
        twice.push_back(*below);
        twice.push_back(2.0 * y);
    }
    dropFront(line, first);
}

} // namespace couplet
