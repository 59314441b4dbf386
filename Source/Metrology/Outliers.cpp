// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Outliers.h"

#include "Metrology/Expanded.h"
#include "Metrology/Repeats.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace couplet {
namespace {

constexpr double outlierSignificance = 0.01, stragglerSignificance = 0.05;
constexpr std::size_t fewestToTest = 3;
constexpr std::size_t mostOutliers = 20; // of one group: whoever has more has something else to look for

std::vector<double> ranksOf(const std::vector<double>& values)
{
    std::vector<std::size_t> order(values.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
    std::vector<double> ranks(values.size());
    for (std::size_t first = 0; first < order.size();) {
        std::size_t past = first;
        while (past < order.size() && values[order[past]] == values[order[first]])
            ++past;
        for (std::size_t i = first; i < past; ++i)
            ranks[order[i]] = 0.5 * static_cast<double>(first + past - 1);
        first = past;
    }
    return ranks;
}

// Above what Student's t allows a correlation by chance; `p` is the two-sided probability to stay within.
bool exceedsChance(double correlation, std::size_t count, double p)
{
    const double nu = static_cast<double>(count) - 2.0;
    const double rest = 1.0 - correlation * correlation;
    const double t = studentQuantile(p, nu);
    return correlation * correlation * nu > t * t * rest;
}

} // namespace

double grubbsCritical(std::size_t count, double significance)
{
    const auto n = static_cast<double>(count);
    const double t = studentQuantile(1.0 - significance / n, n - 2.0);
    return (n - 1.0) / std::sqrt(n) * std::sqrt(t * t / (n - 2.0 + t * t));
}

std::vector<Outlier> outliersOf(const std::vector<double>& readings)
{
    std::vector<Outlier> found;
    std::vector<std::size_t> left(readings.size());
    std::iota(left.begin(), left.end(), std::size_t{0});
    while (left.size() >= fewestToTest && found.size() < mostOutliers) {
        std::vector<double> values;
        values.reserve(left.size());
        for (const std::size_t index : left)
            values.push_back(readings[index]);
        const auto repeats = repeatsOf(values);
        if (!repeats || !(repeats->deviation > 0.0))
            break;
        const auto isNearer = [&](std::size_t a, std::size_t b) {
            return std::abs(readings[a] - repeats->mean) < std::abs(readings[b] - repeats->mean);
        };
        const auto farthest = std::max_element(left.begin(), left.end(), isNearer);
        const double distance = std::abs(readings[*farthest] - repeats->mean) / repeats->deviation;
        const double one = grubbsCritical(left.size(), outlierSignificance);
        const double five = grubbsCritical(left.size(), stragglerSignificance);
        if (!(distance > five))
            break;
        found.push_back({*farthest, distance, distance > one ? one : five, !(distance > one)});
        left.erase(farthest);
    }
    return found;
}

std::optional<double> rankCorrelation(const std::vector<double>& first, const std::vector<double>& second)
{
    if (first.size() < 3 || first.size() != second.size())
        return std::nullopt;
    const auto a = ranksOf(first), b = ranksOf(second);
    const double middle = 0.5 * (static_cast<double>(a.size()) - 1.0);
    double both = 0.0, ofFirst = 0.0, ofSecond = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        both += (a[i] - middle) * (b[i] - middle);
        ofFirst += (a[i] - middle) * (a[i] - middle);
        ofSecond += (b[i] - middle) * (b[i] - middle);
    }
    if (!(ofFirst > 0.0) || !(ofSecond > 0.0))
        return std::nullopt;
    return std::clamp(both / std::sqrt(ofFirst * ofSecond), -1.0, 1.0);
}

TimeTrend timeTrendOf(const std::vector<double>& readings, const std::vector<double>& at_s)
{
    constexpr std::size_t fewest = 6;
    constexpr double twoSided = 0.99, oneSided = 0.98; // 1 % each
    const auto repeats = repeatsOf(readings);
    if (readings.size() < fewest || readings.size() != at_s.size() || !repeats)
        return {};
    std::vector<double> deviations;
    deviations.reserve(readings.size());
    for (const double reading : readings)
        deviations.push_back(std::abs(reading - repeats->mean));
    const auto level = rankCorrelation(readings, at_s), scatter = rankCorrelation(deviations, at_s);
    TimeTrend trend;
    trend.drifts = level && exceedsChance(*level, readings.size(), twoSided);
    trend.scatterGrows = scatter && *scatter > 0.0 && exceedsChance(*scatter, readings.size(), oneSided);
    return trend;
}

} // namespace couplet
