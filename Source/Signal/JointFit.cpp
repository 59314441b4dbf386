// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/JointFit.h"

#include "Signal/LinePhasors.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr auto idx(int i)
{
    return static_cast<std::size_t>(i);
}

// A line nearer than this to another, in units of 1/T, cannot be parted from it well: at 1.5/T the bound is 1.03 of
// that of a tone alone, at 1/T already 1.7.
constexpr double nearest = 1.5;

constexpr double settled = 0.02; // rad over the window: below this another round changes nothing that can be seen
constexpr double longestStep = 3.0;
constexpr double contradiction = 1e-6; // retuning strong hum by 0.03 Hz alone makes some 1e-8

} // namespace

LineSet moved(const LineSet& from, const LineTuning& tuning, double samples)
{
    LineSet to;
    to.dc = from.dc;
    const LineValues turned = linePhasors(tuning, samples);
    for (std::size_t line = 0; line < lineCount; ++line)
        to.line[line] = from.line[line] * turned[line];
    return to;
}

void JointFit::choose(const FitRequest& request, const LineTuning& trial, double samples)
{
    choice.count = 0;
    const LineAngles angles(trial, samples);
    const double gap = nearest * 2.0 * pi / samples;
    if (request.tone)
        for (int k = 0; k < toneOrders; ++k)
            if (trial.omega(k) > 0.0 && (k == 0 || trial.tone > gap))
                choice.add(k, angles[k]);
    choice.tones = choice.count;

    const auto addMains = [&](int first, int orders) {
        for (int k = 0; k < orders; ++k) {
            const double w = trial.omega(first + k);
            const bool clear = w > gap && trial.omega(first) > gap &&
                               std::all_of(choice.angles.begin(), choice.angles.begin() + choice.tones,
                                           [&](const HalfAngles& tone) { return std::abs(tone.angle - w) >= gap; });
            if (clear)
                choice.add(first + k, angles[first + k]);
        }
    };
    if (request.mains == MainsLines::believed || request.mains == MainsLines::both)
        addMains(firstMainsLine, std::min(request.mainsLimit, mainsOrders));
    if (request.mains == MainsLines::other || request.mains == MainsLines::both)
        addMains(firstOtherLine, std::min(request.mainsLimit, otherMainsOrders));
}

// One Gauss-Newton step on the tone's frequency. Its derivative is solved against the linear basis, so that a step of
// frequency takes the amplitudes along.
JointFit::Step JointFit::improve(double samples, EvenOdd& x)
{
    const EvenOdd u = system.derivative(x);
    toneColumn = u;
    system.solve(toneColumn);
    const Phasor m = joined.moment[idx(choice.line[0])];
    const double gradient = x.even[1] * m.im + x.odd[0] * m.re - dot(u, x, choice.count);
    toneCurvature = system.derivativeSquare(x) - dot(u, toneColumn, choice.count);

    const double step = gradient / toneCurvature, limit = longestStep / samples;
    // A step that is far too long says only the direction: the amplitudes are then left for the next round.
    if (std::abs(step) > limit)
        return {std::copysign(limit, step), 0.0};
    for (int i = 0; i <= choice.count; ++i)
        x.even[idx(i)] -= toneColumn.even[idx(i)] * step;
    for (int i = 0; i < choice.count; ++i)
        x.odd[idx(i)] -= toneColumn.odd[idx(i)] * step;
    return {step, step * gradient};
}

void JointFit::fillSigmas(Fit& fit, const EvenOdd& x) const
{
    if (!(toneCurvature > 0.0))
        return;
    fit.sigmaOmega = std::sqrt(fit.noiseVariance / toneCurvature);
    // Covariance of the tone's (p, q): G^-1, and what not knowing the frequency adds; along (p, q) / A.
    const double p = x.even[1] / fit.amplitude, q = x.odd[0] / fit.amplitude;
    EvenOdd direction;
    direction.even[1] = p;
    direction.odd[0] = q;
    EvenOdd column = direction;
    system.solve(column);
    const double along = p * toneColumn.even[1] + q * toneColumn.odd[0];
    fit.sigmaAmplitude =
        std::sqrt(fit.noiseVariance * (p * column.even[1] + q * column.odd[0] + along * along / toneCurvature));
}

Fit JointFit::operator()(const HopRing& ring, const FitRequest& request)
{
    Fit fit;
    fit.hops = request.hops;
    fit.samples = request.hops * hopSamples;
    fit.tuning = request.start;
    const double n = fit.samples;
    EvenOdd x;
    for (int round = 0; round < request.rounds; ++round) {
        joined = ring.joined(request.hops, fit.tuning);
        choose(request, fit.tuning, n);
        if (!system.build(choice, n))
            return fit;
        EvenOdd right;
        right.even[0] = joined.total;
        for (int i = 0; i < choice.count; ++i) {
            const Phasor z = joined.sum[idx(choice.line[idx(i)])];
            right.even[idx(i + 1)] = z.re;
            right.odd[idx(i)] = -z.im;
        }
        x = right;
        system.solve(x);
        double left = joined.power - dot(x, right, choice.count);
        // Rounding of the sums leaves some 1e-14 of the power; less than that is not to be believed.
        const auto variance = [&](double residual, int unknowns) {
            return std::max(residual, 1e-14 * joined.power) / (n - unknowns);
        };
        fit.noiseVariance = variance(left, 2 * choice.count + 1);

        Step step;
        if (request.refine && request.tone) {
            step = improve(n, x);
            left -= step.explained;
            fit.noiseVariance = variance(left, 2 * choice.count + 2);
        }
        fit.tuning.tone += step.omega;

        fit.atCentre = {};
        fit.atCentre.dc = x.even[0];
        fit.solved = {};
        for (int i = 0; i < choice.count; ++i) {
            const auto line = idx(choice.line[idx(i)]);
            fit.atCentre.line[line] = {x.even[idx(i + 1)], -x.odd[idx(i)]};
            fit.solved[line] = true;
        }
        // Sums retuned too far contradict each other and leave less than nothing.
        fit.consistent = left > -contradiction * joined.power;
        if (!std::isfinite(step.omega) || !std::isfinite(left) || !std::isfinite(x.even[0]) ||
            !(fit.tuning.tone > 0.0 || !request.tone) || fit.tuning.tone >= pi)
            return fit;
        if (std::abs(step.omega) * n < settled)
            break;
    }
    fit.valid = true;
    if (request.tone) {
        fit.amplitude = magnitude(fit.atCentre.line[0]);
        if (request.refine && fit.amplitude > 0.0)
            fillSigmas(fit, x);
    }
    return fit;
}

} // namespace couplet
