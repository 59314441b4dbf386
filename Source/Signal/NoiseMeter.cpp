// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/NoiseMeter.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr double lowestNoise_Hz = 20.0, highestNoise_Hz = 20000.0;
constexpr double needsLowPass_Hz = 60000.0;

// A hop is disturbed when what is left in it is four times what it usually is, and can be heard beside the tone: above
// -60 dB of it. After two seconds of it, it is what is usual.
constexpr double muchMore = 4.0;
constexpr double ofTone = 1e-6;
constexpr int hopsToGetUsed = 40;
constexpr int hopsToLearn = 8;
constexpr double follow = 0.1;

BiquadCoefficients butterworth(double corner_Hz, double sampleRate_Hz, bool high)
{
    const double k = std::tan(pi * corner_Hz / sampleRate_Hz), r = std::sqrt(2.0) * k;
    const double scale = 1.0 / (1.0 + r + k * k);
    BiquadCoefficients c;
    c.b0 = c.b2 = high ? scale : k * k * scale;
    c.b1 = high ? -2.0 * scale : 2.0 * k * k * scale;
    c.a1 = 2.0 * (k * k - 1.0) * scale;
    c.a2 = (1.0 - r + k * k) * scale;
    return c;
}

} // namespace

NoiseMeter::NoiseMeter(double sampleRate_Hz) : hasLowPass(sampleRate_Hz > needsLowPass_Hz)
{
    highPass.c = butterworth(lowestNoise_Hz, sampleRate_Hz, true);
    if (hasLowPass)
        lowPass.c = butterworth(highestNoise_Hz, sampleRate_Hz, false);
    const WeightingDesign design = designWeighting(sampleRate_Hz);
    low.c = design.lowPair;
    high.c = design.highPair;
    middle.c = design.middlePair;
}

void NoiseMeter::reset()
{
    for (Biquad* filter : {&highPass, &lowPass, &low, &high, &middle})
        filter->reset();
    sum = sumA = usual = hopPower = hopPowerA = 0.0;
    samples = hops = disturbedHops = 0;
    isDisturbed = false;
}

void NoiseMeter::add(const FoldedChunk& left)
{
    std::array<double, chunkLength> x = unfolded(left);
    Biquad l = low, h = high, m = middle, hp = highPass;
    double s = 0.0, sA = 0.0;
    for (double& value : x) {
        const double a = m(h(l(value)));
        sA += a * a;
        value = hp(value);
    }
    low = l;
    high = h;
    middle = m;
    highPass = hp;
    if (hasLowPass)
        for (double& value : x)
            value = lowPass(value);
    for (const double value : x)
        s += value * value;
    for (Biquad* filter : {&highPass, &lowPass, &low, &high, &middle})
        filter->settle();
    sum += s;
    sumA += sA;
    samples += chunkLength;
}

void NoiseMeter::endHop(double tonePower)
{
    hopPower = samples > 0 ? sum / samples : 0.0;
    hopPowerA = samples > 0 ? sumA / samples : 0.0;
    sum = sumA = 0.0;
    samples = 0;
    ++hops;
    isDisturbed = hops > hopsToLearn && hopPower > muchMore * usual && hopPower > ofTone * tonePower;
    disturbedHops = isDisturbed ? disturbedHops + 1 : 0;
    if (disturbedHops >= hopsToGetUsed || hops <= hopsToLearn)
        usual = hops == 1 || disturbedHops >= hopsToGetUsed ? hopPower : std::min(usual, hopPower);
    else if (!isDisturbed)
        usual += follow * (hopPower - usual);
}

} // namespace couplet
