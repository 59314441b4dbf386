// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/FitGrid.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr std::size_t mostPoints = 4000;
constexpr double coarsestWithin_dB = 0.025; // between the features and a little beyond
constexpr double beyond_dB = 2.0;
// Steps by this part of the distance to what is nearest: in tails that fall as steeply as x^-3 the trapezoidal rule is
// then within 0.2 %, and an interval's end within 0.002 dB.
constexpr double finest = 0.04;
// And where it stands by this part of its width: what is blurred by its width is smooth enough for that.
constexpr double closest = 0.15;

// Student's t of three degrees of freedom, 1 at its middle.
double densityOfStudent(double z)
{
    const double root = 1.0 / (1.0 + z * z / 3.0);
    return root * root;
}

// Steps that shrink near each feature, in the manner of asinh.
std::vector<double> pointsFor(const std::vector<Feature>& features, double reach_dB, double density)
{
    double lowest = features.front().at_dB, highest = lowest;
    for (const auto& feature : features) {
        lowest = std::min(lowest, feature.at_dB);
        highest = std::max(highest, feature.at_dB);
    }
    const double within = std::max(coarsestWithin_dB, (highest - lowest) / 400.0) * density / finest;
    std::vector<double> points;
    for (double y = lowest - reach_dB; y < highest + reach_dB && points.size() < 2 * mostPoints;) {
        points.push_back(y);
        double step = std::max(reach_dB, within);
        for (const auto& [at, width] : features)
            step = std::min(step, density * std::hypot(closest / finest * width, y - at));
        if (y > lowest - beyond_dB - within && y < highest + beyond_dB)
            step = std::min(step, within);
        y += step;
    }
    points.push_back(highest + reach_dB);
    return points;
}

} // namespace

FitGrid::FitGrid(const std::vector<Feature>& features, double reach_dB)
{
    double density = finest;
    for (at = pointsFor(features, reach_dB, density); at.size() > mostPoints; density *= 1.5)
        at = pointsFor(features, reach_dB, density * 1.5);
    cells.resize(at.size());
    for (std::size_t i = 0; i < at.size(); ++i)
        cells[i] = 0.5 * (at[std::min(i + 1, at.size() - 1)] - at[i > 0 ? i - 1 : 0]);
}

Widening::Widening(const FitGrid& grid, double u_dB)
{
    if (!(u_dB > 0.0))
        return;
    constexpr double farthest = 7.0; // deviations: beyond them is 1e-11 of a normal density
    const auto& at = grid.points();
    std::size_t first = 0, past = 0;
    for (const double c : at) {
        while (c - at[first] > farthest * u_dB)
            ++first;
        while (past < at.size() && at[past] - c <= farthest * u_dB)
            ++past;
        const Row row{first, past - first, kernel.size()};
        double sum = 0.0;
        for (std::size_t j = first; j < past; ++j) {
            const double z = (c - at[j]) / u_dB;
            kernel.push_back(std::exp(-0.5 * z * z) * grid.weights()[j]);
            sum += kernel.back();
        }
        // Scaled to 1 within the grid: where points stand farther apart than u, nothing is to be widened.
        for (std::size_t j = row.start; j < kernel.size(); ++j)
            kernel[j] /= sum;
        rows.push_back(row);
    }
}

std::vector<double> Widening::operator()(const std::vector<double>& logs) const
{
    if (rows.empty())
        return logs;
    const double top = *std::max_element(logs.begin(), logs.end());
    std::vector<double> linear(logs.size());
    std::transform(logs.begin(), logs.end(), linear.begin(), [top](double v) { return std::exp(v - top); });
    std::vector<double> wide;
    wide.reserve(logs.size());
    constexpr double vanishing = 1e-250;
    for (const auto& row : rows) {
        double sum = 0.0;
        for (std::size_t j = 0; j < row.count; ++j)
            sum += kernel[row.start + j] * linear[row.first + j];
        if (sum > vanishing) {
            wide.push_back(top + std::log(sum));
            continue;
        }
        // Far from the peak doubles end: the same once more, from what is highest here.
        const auto begin = logs.begin() + static_cast<std::ptrdiff_t>(row.first);
        const double here = *std::max_element(begin, begin + static_cast<std::ptrdiff_t>(row.count));
        sum = 0.0;
        for (std::size_t j = 0; j < row.count; ++j)
            sum += kernel[row.start + j] * std::exp(logs[row.first + j] - here);
        wide.push_back(here + std::log(sum));
    }
    return wide;
}

StudentWidening::StudentWidening(const FitGrid& grid, double u_dB)
{
    if (!(u_dB > 0.0))
        return;
    for (const double c : grid.points())
        scaled.push_back(c / u_dB);
    // Scaled to 1 within the grid: where points stand farther apart than u, nothing is to be widened.
    std::vector<double> sums(grid.size(), 0.0);
    for (std::size_t from = 0; from < grid.size(); ++from) {
        const double at = scaled[from], weight = grid.weights()[from];
        for (std::size_t i = 0; i < sums.size(); ++i)
            sums[i] += weight * densityOfStudent(scaled[i] - at);
    }
    for (std::size_t from = 0; from < grid.size(); ++from)
        parts.push_back(grid.weights()[from] / sums[from]);
}

std::vector<double> StudentWidening::operator()(const std::vector<double>& logs) const
{
    if (parts.empty())
        return logs;
    const double top = *std::max_element(logs.begin(), logs.end());
    // What is so far below the highest adds nothing anywhere, although the tails fall as slowly as z^-4.
    const double vanishing = 1e-6 * densityOfStudent(scaled.back() - scaled.front());
    std::vector<double> spread(logs.size(), 0.0);
    for (std::size_t from = 0; from < logs.size(); ++from) {
        const double height = std::exp(logs[from] - top);
        if (!(height > vanishing))
            continue;
        const double mass = height * parts[from], at = scaled[from];
        for (std::size_t i = 0; i < spread.size(); ++i)
            spread[i] += mass * densityOfStudent(scaled[i] - at);
    }
    for (double& each : spread)
        each = top + std::log(each);
    return spread;
}

double logSumOfExponentials(const double* logs, std::size_t count)
{
    const double top = count > 0 ? *std::max_element(logs, logs + count) : -INFINITY;
    if (!std::isfinite(top))
        return top;
    double sum = 0.0;
    constexpr double negligible = 36.0;
    for (std::size_t i = 0; i < count; ++i)
        if (logs[i] > top - negligible)
            sum += std::exp(logs[i] - top);
    return top + std::log(sum);
}

} // namespace couplet
