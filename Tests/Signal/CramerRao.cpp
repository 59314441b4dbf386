// SPDX-License-Identifier: GPL-3.0-or-later
#include "CramerRao.h"

#include "Quantities/Decibels.h"

#include <vector>

namespace couplet::test {
namespace {

using Matrix = std::vector<std::vector<double>>;

// Solves in place by Gauss elimination; the matrix is positive definite.
std::vector<double> solved(Matrix a, std::vector<double> x)
{
    const std::size_t n = x.size();
    for (std::size_t k = 0; k < n; ++k)
        for (std::size_t r = k + 1; r < n; ++r) {
            const double factor = a[r][k] / a[k][k];
            for (std::size_t c = k; c < n; ++c)
                a[r][c] -= factor * a[k][c];
            x[r] -= factor * x[k];
        }
    for (std::size_t k = n; k-- > 0;) {
        for (std::size_t c = k + 1; c < n; ++c)
            x[k] -= a[k][c] * x[c];
        x[k] /= a[k][k];
    }
    return x;
}

std::vector<double> linesOf(const Truth& truth, int samples)
{
    const double gap = 1.5 * truth.sampleRate_Hz / samples;
    const double highest = 0.98 * 0.5 * truth.sampleRate_Hz;
    std::vector<double> lines;
    for (int k = 1; k <= 10 && k * truth.tone_Hz < highest; ++k)
        if (k == 1 || truth.tone_Hz > gap)
            lines.push_back(k * truth.tone_Hz);
    const std::size_t tones = lines.size();
    for (int k = 1; k <= 10; ++k) {
        bool clear = k * truth.hum_Hz > gap && truth.hum_Hz > gap;
        for (std::size_t i = 0; i < tones; ++i)
            clear = clear && std::abs(lines[i] - k * truth.hum_Hz) >= gap;
        if (clear)
            lines.push_back(k * truth.hum_Hz);
    }
    return lines;
}

Matrix information(const Truth& truth, const std::vector<double>& lines, int samples, double phase)
{
    const std::size_t pairs = lines.size();
    const std::size_t columns = 2 * pairs + 2 + (truth.hum > 0.0 ? 1 : 0);
    Matrix sum(columns, std::vector<double>(columns));
    std::vector<Phasor> turn(pairs), step(pairs);
    const double start = -0.5 * (samples - 1);
    const double perHz = 2.0 * pi / truth.sampleRate_Hz;
    for (std::size_t i = 0; i < pairs; ++i) {
        turn[i] = unitPhasor(lines[i] * perHz * start);
        step[i] = unitPhasor(lines[i] * perHz);
    }
    const Phasor atCentre = unitPhasor(phase), humStep = unitPhasor(truth.hum_Hz * perHz);
    Phasor humTurn = unitPhasor(truth.hum_Hz * perHz * start);
    std::vector<double> row(columns);
    for (int i = 0; i < samples; ++i) {
        const double n = (start + i) / samples; // in units of the window, or the sums would not be of one size
        for (std::size_t k = 0; k < pairs; ++k) {
            row[2 * k] = turn[k].re;
            row[2 * k + 1] = turn[k].im;
        }
        row[2 * pairs] = 1.0;
        row[2 * pairs + 1] = -n * (turn[0] * atCentre).im;
        if (truth.hum > 0.0) {
            const Phasor two = humTurn * humTurn, three = two * humTurn;
            row[2 * pairs + 2] = n * (-humTurn.im + 0.6 * two.re - 1.5 * three.im);
            humTurn = humTurn * humStep;
        }
        for (std::size_t r = 0; r < columns; ++r)
            for (std::size_t c = r; c < columns; ++c)
                sum[r][c] += row[r] * row[c];
        for (std::size_t k = 0; k < pairs; ++k)
            turn[k] = turn[k] * step[k];
    }
    for (std::size_t r = 0; r < columns; ++r)
        for (std::size_t c = 0; c < r; ++c)
            sum[r][c] = sum[c][r];
    return sum;
}

} // namespace

Bound jointBound(const Truth& truth, int samples)
{
    const auto lines = linesOf(truth, samples);
    const double relative = truth.noise / truth.amplitude;
    constexpr int phases = 4; // of half a turn; the bound of the other half is the same
    double level = 0.0, frequency = 0.0;
    for (int i = 0; i < phases; ++i) {
        const double phase = pi * (i + 0.5) / phases;
        const Matrix f = information(truth, lines, samples, phase);
        // A cos(wn + phase) = p cos wn + q sin wn: A grows along p = cos, q = -sin.
        std::vector<double> along(f.size()), omega(f.size());
        along[0] = std::cos(phase);
        along[1] = -std::sin(phase);
        omega[2 * lines.size() + 1] = 1.0;
        const auto a = solved(f, along), w = solved(f, omega);
        level += (along[0] * a[0] + along[1] * a[1]) / phases;
        frequency += w[2 * lines.size() + 1] / phases;
    }
    return {dBPerRelative * relative * std::sqrt(level),
            relative * std::sqrt(frequency) / samples * truth.sampleRate_Hz / (2.0 * pi)};
}

} // namespace couplet::test
