// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/JointFit.h"
#include "Signal/MomentCorrection.h"
#include "Stream.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rate_Hz = 48000.0, perHz = 2.0 * pi / rate_Hz;
const int hop = hopLength(rate_Hz);

struct Window
{
    std::vector<float> samples;
    HopRing ring{200, hop};
};

// Hops summed at `tuning`, and as many retuned ones in between when `wander` says so.
Window windowOf(const Truth& truth, int hops, const LineTuning& tuning, double wander = 0.0)
{
    Window w;
    Stream stream(truth, 3);
    HopSummer summer(hop);
    for (int h = 0; h < hops; ++h) {
        LineTuning moved = tuning;
        moved.tone += h % 2 == 0 ? wander : -wander;
        summer.tune(moved);
        summer.begin();
        for (int i = 0; i < hop; i += chunkLength) {
            const auto chunk = stream.chunk();
            w.samples.insert(w.samples.end(), chunk.begin(), chunk.end());
            summer.add(folded(chunk.data()));
        }
        w.ring.push(summer.sums());
    }
    return w;
}

// Least squares on the samples themselves, by modified Gram-Schmidt on a column for each unknown.
struct Dense
{
    std::vector<double> coefficients;
    double left = 0.0; // sum of squares
};
Dense leastSquares(const std::vector<std::vector<double>>& columns, const std::vector<float>& samples)
{
    const auto inner = [](const auto& a, const auto& b) {
        double sum = 0.0;
        for (std::size_t i = 0; i < a.size(); ++i)
            sum += a[i] * b[i];
        return sum;
    };
    std::vector<std::vector<double>> q;
    std::vector<std::vector<double>> r(columns.size(), std::vector<double>(columns.size()));
    std::vector<double> rest(samples.begin(), samples.end()), along;
    for (std::size_t c = 0; c < columns.size(); ++c) {
        auto v = columns[c];
        for (std::size_t k = 0; k < c; ++k) {
            r[k][c] = inner(q[k], v);
            for (std::size_t i = 0; i < v.size(); ++i)
                v[i] -= r[k][c] * q[k][i];
        }
        r[c][c] = std::sqrt(inner(v, v));
        for (double& value : v)
            value /= r[c][c];
        q.push_back(v);
        along.push_back(inner(v, rest));
        for (std::size_t i = 0; i < v.size(); ++i)
            rest[i] -= along[c] * v[i];
    }
    Dense d{along, inner(rest, rest)};
    for (std::size_t c = columns.size(); c-- > 0;) {
        for (std::size_t k = c + 1; k < columns.size(); ++k)
            d.coefficients[c] -= r[c][k] * d.coefficients[k];
        d.coefficients[c] /= r[c][c];
    }
    return d;
}

// The constant, then cosine and sine of each line that the fit solved, about the window's centre.
Dense denseFit(const std::vector<float>& samples, const LineTuning& tuning, const std::array<bool, lineCount>& solved)
{
    std::vector<std::vector<double>> columns{std::vector<double>(samples.size(), 1.0)};
    for (int line = 0; line < lineCount; ++line) {
        if (!solved[static_cast<std::size_t>(line)])
            continue;
        std::vector<double> c(samples.size()), s(samples.size());
        for (std::size_t i = 0; i < samples.size(); ++i) {
            const double n = static_cast<double>(i) - 0.5 * (static_cast<double>(samples.size()) - 1.0);
            c[i] = std::cos(tuning.omega(line) * n);
            s[i] = std::sin(tuning.omega(line) * n);
        }
        columns.push_back(c);
        columns.push_back(s);
    }
    return leastSquares(columns, samples);
}

Truth everythingAtOnce(double tone_Hz)
{
    Truth truth;
    truth.tone_Hz = tone_Hz;
    truth.second = 0.1;
    truth.third = 0.05;
    truth.hum = 0.03;
    truth.constant = 0.2;
    return truth.withSnr_dB(30.0);
}

FitRequest requestFor(int hops, const LineTuning& start)
{
    FitRequest request;
    request.hops = hops;
    request.start = start;
    return request;
}

double largestDifference(const Fit& fit, const Dense& dense)
{
    double largest = std::abs(fit.atCentre.dc - dense.coefficients[0]);
    std::size_t next = 1;
    for (std::size_t line = 0; line < lineCount; ++line)
        if (fit.solved[line]) {
            const Phasor should{dense.coefficients[next], -dense.coefficients[next + 1]};
            largest = std::max(largest, magnitude(fit.atCentre.line[line] - should));
            next += 2;
        }
    return largest;
}

} // namespace

TEST_CASE("with given frequencies the fit is the dense least-squares fit of the samples")
{
    for (const double tone_Hz : {83.0, 525.0, 1000.04, 7000.0})
        for (const int hops : {1, 2, 4}) {
            const LineTuning tuning{tone_Hz * perHz, 50.0 * perHz, 60.0 * perHz};
            const Window w = windowOf(everythingAtOnce(tone_Hz), hops, tuning);
            FitRequest request = requestFor(hops, tuning);
            request.refine = false;
            JointFit joint(hop);
            const Fit fit = joint(w.ring, request);
            REQUIRE(fit.valid);
            const Dense dense = denseFit(w.samples, tuning, fit.solved);
            CAPTURE(tone_Hz, hops);
            CHECK(largestDifference(fit, dense) < 1e-10);
            const auto unknowns = static_cast<double>(dense.coefficients.size());
            CHECK(fit.noiseVariance == Approx(dense.left / (hops * hop - unknowns)).epsilon(1e-7));
        }
}

TEST_CASE("a fit at a refined frequency leaves the least that any frequency leaves")
{
    Truth truth = everythingAtOnce(731.02);
    truth.hum = truth.second = truth.third = 0.0;                        // the fundamental alone tells the frequency
    const LineTuning summed{731.05 * perHz, 50.0 * perHz, 60.0 * perHz}; // not where the tone is
    const Window w = windowOf(truth, 4, summed);
    JointFit joint(hop);
    const Fit fit = joint(w.ring, requestFor(4, summed));
    REQUIRE(fit.valid);
    const auto leftAt = [&](double shift_Hz) {
        LineTuning tuning = fit.tuning;
        tuning.tone += shift_Hz * perHz;
        return denseFit(w.samples, tuning, fit.solved).left;
    };
    // The parabola through three points has its least within a thousandth of the frequency's deviation.
    const double step_Hz = 0.02, sigma_Hz = fit.sigmaOmega / perHz;
    const double below = leftAt(-step_Hz), here = leftAt(0.0), above = leftAt(step_Hz);
    const double least_Hz = 0.5 * step_Hz * (below - above) / (below - 2.0 * here + above);
    CHECK(std::abs(least_Hz) < 0.02 * sigma_Hz);
    CHECK(fit.noiseVariance * (4 * hop) == Approx(here).epsilon(0.01));
    // The curvature is the information of the frequency: left = least + variance (shift / sigma)^2.
    const double curvature = 0.5 * (below - 2.0 * here + above) / (step_Hz * step_Hz);
    CHECK(sigma_Hz == Approx(std::sqrt(fit.noiseVariance / curvature)).epsilon(0.01));
}

TEST_CASE("hops summed at other frequencies join as if summed at the right one")
{
    const double tone_Hz = 1000.04;
    const LineTuning tuning{tone_Hz * perHz, 50.0 * perHz, 60.0 * perHz};
    Truth truth = everythingAtOnce(tone_Hz);
    FitRequest request = requestFor(20, tuning);
    request.refine = false;
    JointFit joint(hop);
    const Fit straight = joint(windowOf(truth, 20, tuning).ring, request);
    // 0.02 Hz is more than a second's frequency estimate moves at an SNR of 0 dB.
    const Fit wandering = joint(windowOf(truth, 20, tuning, 0.02 * perHz).ring, request);
    REQUIRE(straight.valid);
    REQUIRE(wandering.valid);
    CHECK(magnitude(wandering.atCentre.line[0] - straight.atCentre.line[0]) < 2e-7 * truth.amplitude);
}

TEST_CASE("lines of a fit are carried on in time as they turn")
{
    LineSet lines;
    lines.dc = 0.1;
    lines.line[0] = {0.2, 0.1};
    const LineTuning tuning{0.01, 0.006, 0.007};
    const LineSet later = moved(lines, tuning, 100.0);
    CHECK(later.dc == 0.1);
    CHECK(magnitude(later.line[0] - lines.line[0] * unitPhasor(1.0)) < 1e-15);
}
