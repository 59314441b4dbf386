// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/JointFit.h"

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

// The mains' frequency is let move when its lines stand this far above noise, over this many of its periods.
constexpr double clearHum = 5.0;
constexpr double periodsToRefine = 4.5;

constexpr double settled = 0.02; // rad over the window: below this another round changes nothing that can be seen
constexpr double longestStep = 3.0;

} // namespace

LineSet moved(const LineSet& from, const LineTuning& tuning, double samples)
{
    LineSet to;
    to.dc = from.dc;
    for (int line = 0; line < lineCount; ++line)
        to.line[idx(line)] = from.line[idx(line)] * unitPhasor(tuning.omega(line) * samples);
    return to;
}

// Each hop is turned to the window's centre and retuned from its own frequencies to the trial ones:
// z' = z - j d m - d^2 q / 2 and m' = m - j d q, d the difference. Only the tone needs the second order.
void JointFit::join(const HopRing& ring, int hops, const LineTuning& trial)
{
    joined = {};
    std::array<Phasor, lineCount> turn, step;
    double t = -0.5 * (hops - 1) * hopSamples;
    for (int line = 0; line < lineCount; ++line) {
        const double w = trial.omega(line);
        turn[idx(line)] = unitPhasor(-w * t);
        step[idx(line)] = unitPhasor(-w * hopSamples);
    }
    for (int age = hops - 1; age >= 0; --age, t += hopSamples) {
        const HopSums& hop = ring[age];
        joined.total += hop.total;
        joined.power += hop.power;
        const double dTone = trial.tone - hop.tuning.tone;
        const double dMains = trial.mains - hop.tuning.mains;
        const double dOther = trial.otherMains - hop.tuning.otherMains;
        for (int line = 0; line < lineCount; ++line) {
            const double d = line < firstMainsLine   ? (line + 1) * dTone
                             : line < firstOtherLine ? (line - firstMainsLine + 1) * dMains
                                                     : (line - firstOtherLine + 1) * dOther;
            Phasor m = hop.moment[idx(line)];
            Phasor z = hop.sum[idx(line)] + Phasor{d * m.im, -d * m.re};
            if (line == 0) {
                const Phasor q = hop.toneSecondMoment;
                z = z - (0.5 * d * d) * q;
                m = m + Phasor{d * q.im, -d * q.re};
            }
            joined.sum[idx(line)] += turn[idx(line)] * z;
            joined.moment[idx(line)] += turn[idx(line)] * (t * z + m);
            turn[idx(line)] = turn[idx(line)] * step[idx(line)];
        }
    }
}

void JointFit::choose(const FitRequest& request, const LineTuning& trial, double samples)
{
    choice.count = 0;
    const double gap = nearest * 2.0 * pi / samples;
    if (request.tone)
        for (int k = 0; k < toneOrders; ++k)
            if (const double w = trial.omega(k); w > 0.0 && (k == 0 || trial.tone > gap)) {
                order[idx(choice.count)] = k + 1;
                choice.add(k, w);
            }
    choice.tones = choice.count;

    const auto addMains = [&](int first, int orders) {
        for (int k = 0; k < orders; ++k) {
            const double w = trial.omega(first + k);
            const bool clear = w > gap && trial.omega(first) > gap &&
                               std::all_of(choice.omega.begin(), choice.omega.begin() + choice.tones,
                                           [&](double tone) { return std::abs(tone - w) >= gap; });
            if (clear) {
                order[idx(choice.count)] = k + 1;
                choice.add(first + k, w);
            }
        }
    };
    if (request.mains == MainsLines::believed || request.mains == MainsLines::both)
        addMains(firstMainsLine, std::min(request.mainsLimit, mainsOrders));
    if (request.mains == MainsLines::other || request.mains == MainsLines::both)
        addMains(firstOtherLine, std::min(request.mainsLimit, otherMainsOrders));
}

// One Gauss-Newton step on the tone's frequency and, when it stands above the noise, on the mains'. The derivative
// columns are solved against the linear basis, so that a step of frequency takes the amplitudes along. The mains is
// held near its nominal frequency as by one more observation, or faint hum would lead it astray.
JointFit::Step JointFit::improve(const FitRequest& request, const Fit& fit, bool withMains, EvenOdd& x)
{
    const int columns = withMains ? 2 : 1;
    const std::array<int, 2> first{0, choice.tones}, last{1, choice.count};
    std::array<EvenOdd, 2> u, v;
    std::array<double, 2> gradient{};
    std::array<std::array<double, 2>, 2> curvature{};
    for (int c = 0; c < columns; ++c) {
        u[idx(c)] = system.derivative(first[idx(c)], last[idx(c)], order, x);
        v[idx(c)] = u[idx(c)];
        system.solve(v[idx(c)]);
        for (int s = first[idx(c)]; s < last[idx(c)]; ++s) {
            const Phasor m = joined.moment[idx(choice.line[idx(s)])];
            gradient[idx(c)] += order[idx(s)] * (x.even[idx(s + 1)] * m.im + x.odd[idx(s)] * m.re);
        }
        gradient[idx(c)] -= dot(u[idx(c)], x, choice.count);
    }
    for (int a = 0; a < columns; ++a)
        for (int b = 0; b < columns; ++b)
            curvature[idx(a)][idx(b)] =
                system.derivativeProduct(first[idx(a)], last[idx(a)], first[idx(b)], last[idx(b)], order, x) -
                dot(u[idx(a)], v[idx(b)], choice.count);

    if (withMains && request.mainsSigma > 0.0) {
        const double weight = fit.noiseVariance / (request.mainsSigma * request.mainsSigma);
        gradient[1] -= weight * (fit.tuning.mains - request.mainsNominal);
        curvature[1][1] += weight;
    }

    std::array<double, 2> step{};
    toneColumn = v[0];
    if (withMains) {
        const double determinant = curvature[0][0] * curvature[1][1] - curvature[0][1] * curvature[1][0];
        step[0] = (gradient[0] * curvature[1][1] - gradient[1] * curvature[0][1]) / determinant;
        step[1] = (gradient[1] * curvature[0][0] - gradient[0] * curvature[1][0]) / determinant;
        toneCurvature = determinant / curvature[1][1];
    }
    else {
        step[0] = gradient[0] / curvature[0][0];
        toneCurvature = curvature[0][0];
    }
    // A step that is far too long says only the direction: the amplitudes are then left for the next round.
    const double limit = longestStep / fit.samples;
    const bool tooLong = std::abs(step[0]) > limit || std::abs(step[1]) > limit;
    Step result{std::clamp(step[0], -limit, limit), std::clamp(step[1], -limit, limit), 0.0};
    if (tooLong)
        return result;
    for (int c = 0; c < columns; ++c) {
        for (int i = 0; i <= choice.count; ++i)
            x.even[idx(i)] -= v[idx(c)].even[idx(i)] * step[idx(c)];
        for (int i = 0; i < choice.count; ++i)
            x.odd[idx(i)] -= v[idx(c)].odd[idx(i)] * step[idx(c)];
        result.explained += step[idx(c)] * gradient[idx(c)];
    }
    return result;
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
        join(ring, request.hops, fit.tuning);
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
            double mainsPower = 0.0;
            for (int i = choice.tones; i < choice.count; ++i)
                mainsPower += x.even[idx(i + 1)] * x.even[idx(i + 1)] + x.odd[idx(i)] * x.odd[idx(i)];
            // A line in noise has a squared amplitude of 4 variance / N on average.
            const bool withMains = request.refineMains && choice.count > choice.tones &&
                                   mainsPower > clearHum * mainsOrders * 4.0 * fit.noiseVariance / n &&
                                   n * fit.tuning.mains > periodsToRefine * 2.0 * pi;
            step = improve(request, fit, withMains, x);
            left -= step.explained;
            fit.noiseVariance = variance(left, 2 * choice.count + 2);
        }
        fit.tuning.tone += step.tone;
        fit.tuning.mains += step.mains;

        fit.atCentre = {};
        fit.atCentre.dc = x.even[0];
        fit.solved = {};
        for (int i = 0; i < choice.count; ++i) {
            const auto line = idx(choice.line[idx(i)]);
            fit.atCentre.line[line] = {x.even[idx(i + 1)], -x.odd[idx(i)]};
            fit.solved[line] = true;
        }
        if (!std::isfinite(step.tone) || !(fit.tuning.tone > 0.0 || !request.tone) || fit.tuning.tone >= pi)
            return fit;
        if (std::abs(step.tone) * n < settled && std::abs(step.mains) * n < settled)
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
