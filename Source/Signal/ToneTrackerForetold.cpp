// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ToneTracker.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

// A hop held against what the window before it foretold: is the tone still the same, and where has the mains gone?
namespace couplet {
namespace {

constexpr auto idx(int i)
{
    return static_cast<std::size_t>(i);
}

// A hop is not as foretold when its tone is off by more than an eighth or six standard deviations; two in a row are a
// new tone.
constexpr double mostMiss = 0.12;
constexpr double missSigmas = 6.0;
constexpr int missesOfNewTone = 2;

constexpr double mostPhase = 1.0; // rad: beyond it the hum was disturbed, or is another

} // namespace

// A line's sum over the hop that has just ended as all lines of the window and its constant foretell it; the bare line
// would not do, since the others leak into a single hop.
Phasor ToneTracker::foretoldSum(int line, const LineAngles& angles) const
{
    const Dirichlet kernel(hopLengthSamples);
    const HalfAngles at = angles[line];
    Phasor z{foretold.dc * kernel.at(at).value, 0.0};
    for (int other = 0; other < lineCount; ++other) {
        if (!fit.solved[idx(other)])
            continue;
        const HalfAngles a = angles[other];
        const Phasor c = 0.5 * foretold.line[idx(other)];
        z += kernel.at(differenceOf(a, at)).value * c;
        z += kernel.at(sumOf(a, at)).value * conjugate(c);
    }
    return z;
}

// z = a c + b c* for an amplitude c, solved for c.
Phasor ToneTracker::amplitudeOf(Phasor z, double omega) const
{
    const double a = 0.5 * hopLengthSamples;
    const double b = 0.5 * Dirichlet(hopLengthSamples).at(2.0 * omega).value;
    return (1.0 / (a * a - b * b)) * (a * z - b * conjugate(z));
}

Phasor ToneTracker::toneOf(Phasor sum) const
{
    return amplitudeOf(sum, summedTone);
}

// Hum on an order so near that a hop hears it at the tone, and that the window is still too short to part well from it:
// it moves what the window says of the tone, and the next hop's other way. While the window grows no more is known of the
// order than that none is stronger than the strongest.
double ToneTracker::notParted() const
{
    constexpr double wellParted = 2.0 * partedBy;
    const double order = std::round(fit.tuning.tone / fit.tuning.mains);
    const double apart = std::abs(fit.tuning.tone - order * fit.tuning.mains);
    if (apart * fit.samples > wellParted || !isBesideHum())
        return 0.0;
    return fit.hops < windowHops ? *std::max_element(quietMains.begin(), quietMains.end())
                                 : mainsOrderBeside(static_cast<int>(order));
}

// On or near an order of the mains that is there, so that a hop hears both as one.
bool ToneTracker::isBesideHum() const
{
    const double order = std::round(fit.tuning.tone / fit.tuning.mains);
    return order >= 1.0 && order <= mainsOrders &&
           std::abs(fit.tuning.tone - order * fit.tuning.mains) * hopLengthSamples <= partedBy &&
           mainsOrderBeside(static_cast<int>(order)) > 0.0;
}

void ToneTracker::judgeHop()
{
    const LineAngles angles(newest.tuning, hopLengthSamples);
    const Phasor deviation = toneOf(newest.sum[0] - foretoldSum(0, angles));
    hopTone = foretold.line[0] + deviation;
    const double sigma = std::sqrt(2.0 * fit.noiseVariance / hopLengthSamples);
    // A line that has drowned in what is left says nothing by being within its noise: something else has come, such as
    // a tone above the hum that was all there was before it.
    const bool drowned = fit.amplitude * fit.amplitude < fit.noiseVariance;
    const bool asForetold =
        !drowned && magnitude(deviation) < std::max(mostMiss * fit.amplitude, missSigmas * sigma) + 2.0 * notParted();
    slid = !asForetold && !drowned && goesOnEvenly();
    missed = asForetold || slid ? 0 : missed + 1;
    if (asForetold || slid)
        state = State::following;
    else if (missed >= missesOfNewTone)
        lose();
    if (asForetold)
        observeMains(angles);
}

// The phases of the strongest mains lines against what was foretold, half a window and half a hop before.
void ToneTracker::observeMains(const LineAngles& angles)
{
    mainsFrequency.wander();
    foretold.line[0] = hopTone;
    std::array<int, mainsOrders> strongest;
    for (int i = 0; i < mainsOrders; ++i)
        strongest[idx(i)] = firstMainsLine + i;
    const auto weight = [&](int line) {
        return standsOutOfNoise(line) ? (line - firstMainsLine + 1) * magnitude(foretold.line[idx(line)]) : 0.0;
    };
    constexpr int looked = 3;
    std::partial_sort(strongest.begin(), strongest.begin() + looked, strongest.end(),
                      [&](int a, int b) { return weight(a) > weight(b); });

    const double lever = 0.5 * (fit.hops + 1) * hopLengthSamples;
    const double noise = 2.0 * fit.noiseVariance / hopLengthSamples * (1.0 + 1.0 / fit.hops); // of a line's amplitude
    double deviation = 0.0, information = 0.0;
    for (int i = 0; i < looked; ++i) {
        const int line = strongest[idx(i)], order = line - firstMainsLine + 1;
        if (!(weight(line) > 0.0))
            break;
        const Phasor was = foretold.line[idx(line)];
        const Phasor is =
            was + amplitudeOf(newest.sum[idx(line)] - foretoldSum(line, angles), newest.tuning.omega(line));
        const double power = was.re * was.re + was.im * was.im;
        const double phase = (is * conjugate(was)).im / power;
        if (std::abs(phase) > mostPhase)
            return;
        const double precision = order * lever * order * lever * power / noise;
        deviation += precision * phase / (order * lever);
        information += precision;
    }
    if (information > 0.0)
        mainsFrequency.observe(deviation / information, 1.0 / information);
    fit.tuning.mains = mainsFrequency.omega();
}

void ToneTracker::believeMains(double mains_Hz)
{
    mains.believe(mains_Hz);
    mainsFrequency.begin(mains_Hz);
    fit.tuning.mains = mainsFrequency.omega();
    fit.tuning.otherMains = 2.0 * pi * mains.other_Hz() / sampleRate;
}

} // namespace couplet
