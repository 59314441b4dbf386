// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ToneTracker.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

// What a fit says, in the terms of a reader; and when a level must be withheld because of the mains.
namespace couplet {
namespace {

constexpr auto idx(int i)
{
    return static_cast<std::size_t>(i);
}

// A level is withheld when a mains order that falls on it may move it by more than 0.02 dB.
constexpr double mostMainsShare = 0.0023; // 20 lg(1 + 0.0023) = 0.02 dB

// Below 80 Hz a hop of 50 ms cannot part tone and hum when the hum is strong.
constexpr double lowBesideHum_Hz = 79.0;
constexpr double strongHum = 0.1;

// A grid keeps its frequency within some 0.2 Hz (common practice, no source).
constexpr double mainsReach_Hz = 0.25;

// Beyond 2 kHz the orders of the mains have died away (common practice, no source).
constexpr double highestOrderThatMatters = 40.0;

// How large the mains order h may be, from those that could be measured. Neighbours bound it; and since rectifiers make
// even orders alone and transformers odd ones, so do the next of its own kind: their geometric mean where both sides are
// known, for orders fall off evenly in dB. Orders above those that are fitted are taken to be no larger than the last.
double boundFromOthers(int h, const std::array<double, mainsOrders + 2>& a)
{
    if (h > mainsOrders)
        return std::max(a[mainsOrders - 1], a[mainsOrders]);
    const double beside = std::max(a[idx(h - 1)], a[idx(h + 1)]);
    const double below = h > 2 ? a[idx(h - 2)] : 0.0, above = h + 2 <= mainsOrders ? a[idx(h + 2)] : 0.0;
    if (h <= 2)
        return std::max(beside, above);
    return std::max(beside, h + 2 <= mainsOrders ? std::sqrt(below * above) : below);
}

} // namespace

void ToneTracker::publish()
{
    const double toHz = sampleRate / (2.0 * pi);
    const bool tone = state != State::searching;
    result.restarted = changed;
    changed = false;
    result.amplitude = tone ? fit.amplitude : 0.0;
    result.frequency_Hz = tone ? fit.tuning.tone * toHz : 0.0;
    result.sigmaAmplitude = tone ? fit.sigmaAmplitude : 0.0;
    result.sigmaFrequency_Hz = tone ? fit.sigmaOmega * toHz : 0.0;
    result.window_s = fit.samples / sampleRate;
    const bool wobbles = tone && wobblesInParts();
    result.modulated = wobbles && heard.modulated;
    result.unbroken = tone && evenHops >= hopsOfCalm;
    result.hopAmplitude = !tone ? 0.0 : wobbles ? std::sqrt(heard.power) : magnitude(hopTone);
    for (std::size_t g = 0; g < result.powers.size(); ++g)
        result.powers[g] = result.hopAmplitude * result.hopAmplitude;
    if (tone && heard.known && heard.power > 0.0) // their mean is the hop's
        for (std::size_t g = 0; g < result.powers.size(); ++g)
            result.powers[g] *= heard.powers[g] / heard.power;
    result.dc = fit.atCentre.dc;
    result.noisePower = fit.noiseVariance;
    for (int k = 1; k < toneOrders; ++k)
        result.harmonics[idx(k)] = tone && fit.solved[idx(k)] ? magnitude(fit.atCentre.line[idx(k)]) : 0.0;
    result.third = {};
    if (tone && fit.solved[2] && fit.amplitude > 0.0) {
        const Phasor back = (1.0 / fit.amplitude) * conjugate(fit.atCentre.line[0]);
        result.third = (1.0 / fit.amplitude) * (fit.atCentre.line[2] * back * back * back);
    }
    result.reason = state == State::searching    ? acquisition.foundCrowd() ? NoTone::notAlone : NoTone::searching
                    : state == State::confirming ? NoTone::confirming
                                                 : NoTone::none;
    noteHumAway();
    judgeMains();
}

ToneTracker::MainsAmplitudes ToneTracker::mainsAmplitudes() const
{
    MainsAmplitudes amplitude{};
    for (int order = 1; order <= mainsOrders; ++order)
        if (const int line = firstMainsLine + order - 1; standsOutOfNoise(line))
            amplitude[idx(order)] = magnitude(fit.atCentre.line[idx(line)]);
    return amplitude;
}

// A few hops that hold a tone's beginning leave much, of which each line has its share: what is no larger than such a share
// is no hum. (Hum that could not be parted leaves much as well; its neighbours are larger.)
void ToneTracker::noteQuietMains(bool begins)
{
    quietMains = mainsAmplitudes();
    for (int order = 1; order <= mainsOrders; ++order) {
        double& a = quietMains[idx(order)];
        if (begins && a * a < fit.noiseVariance)
            a = 0.0;
        quietKnown[idx(order)] = fit.solved[idx(firstMainsLine + order - 1)];
    }
}

double ToneTracker::mainsOrderBeside(int order) const
{
    if (quietKnown[idx(order)])
        return quietMains[idx(order)];
    MainsAmplitudes others = quietMains; // what is not known may be as strong as the strongest
    const double strongest = *std::max_element(quietMains.begin(), quietMains.end());
    for (int other = 1; other <= mainsOrders; ++other)
        if (!quietKnown[idx(other)])
            others[idx(other)] = strongest;
    return boundFromOthers(order, others);
}

void ToneTracker::judgeMains()
{
    result.mainsFrequency_Hz = fit.tuning.mains * sampleRate / (2.0 * pi);
    const MainsAmplitudes amplitude = mainsAmplitudes();
    double power = 0.0;
    for (const double a : amplitude)
        power += a * a;
    result.mainsAmplitude = std::sqrt(power);
    result.mainsBound = 0.0;
    if (state == State::searching)
        return;

    if (onMainsItself()) {
        result.reason = NoTone::onMains;
        result.mainsFrequency_Hz = result.frequency_Hz;
        power += result.amplitude * result.amplitude;
        for (const double harmonic : result.harmonics)
            power += harmonic * harmonic;
        result.mainsAmplitude = std::sqrt(power);
        return;
    }

    // An order that falls on the tone was left out, or is above those that are fitted: it is bounded by the others.
    const double order = std::round(fit.tuning.tone / fit.tuning.mains);
    const double gap = 1.5 * 2.0 * pi / fit.samples;
    if (order >= 1.0 && order <= highestOrderThatMatters &&
        std::abs(fit.tuning.tone - order * fit.tuning.mains) < gap) {
        result.mainsBound = boundFromOthers(static_cast<int>(order), amplitude);
        if (result.mainsBound > mostMainsShare * fit.amplitude)
            result.reason = NoTone::onMains;
    }
    result.mainsBound = std::max(result.mainsBound, twiceMainsBound()) + leakBound(amplitude);
    if (keepsLosingLow() ||
        (result.frequency_Hz < lowBesideHum_Hz && result.mainsAmplitude > strongHum * fit.amplitude))
        result.reason = NoTone::lowBesideHum;
}

// On twice the mains every order of a rectifier's hum falls on an order of the tone: it cannot be told from the tone's own
// distortion. All of the second harmonic may be hum; as likely it is the earphone's, and no reason to withhold what it
// plays.
double ToneTracker::twiceMainsBound() const
{
    const double gap = 1.5 * 2.0 * pi / fit.samples;
    const bool believed = std::abs(fit.tuning.tone - 2.0 * fit.tuning.mains) < gap;
    const bool other = result.mainsAmplitude == 0.0 && std::abs(fit.tuning.tone - 2.0 * fit.tuning.otherMains) < gap;
    return believed || other ? result.harmonics[1] : 0.0;
}

// A mains order that falls on a harmonic was left out as well, and beats with it: what is left of it leaks into the tone,
// by 2 a / (pi times the cycles between them in the window) at most.
double ToneTracker::leakBound(const MainsAmplitudes& amplitude) const
{
    const double gap = 1.5 * 2.0 * pi / fit.samples;
    double sum = 0.0;
    for (int k = 2; k <= toneOrders; ++k) {
        const double order = std::round(k * fit.tuning.tone / fit.tuning.mains);
        if (order < 1.0 || order > mainsOrders || fit.solved[idx(firstMainsLine + static_cast<int>(order) - 1)] ||
            std::abs(k * fit.tuning.tone - order * fit.tuning.mains) >= gap)
            continue;
        const double between = (k - 1) * fit.tuning.tone * fit.samples; // rad
        sum += 4.0 * boundFromOthers(static_cast<int>(order), amplitude) / between;
    }
    return sum;
}

// The mains' first order has no neighbour below it that would bound it, and is as a rule the strongest: a tone there
// is taken for the mains.
bool ToneTracker::onMainsItself() const
{
    if (state == State::searching)
        return false;
    const double toHz = sampleRate / (2.0 * pi);
    const double reach = mainsReach_Hz + 4.0 * fit.sigmaOmega * toHz;
    const double tone = fit.tuning.tone * toHz;
    return std::abs(tone - 50.0) < reach || std::abs(tone - 60.0) < reach;
}

} // namespace couplet
