// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/NoiseMeter.h"

#include <algorithm>

namespace couplet {
namespace {

// A hop is disturbed when what is left in it is four times what it usually is, and can be heard beside the tone: above
// -60 dB of it. After two seconds of it, it is what is usual.
constexpr double muchMore = 4.0;
constexpr double ofTone = 1e-6;
constexpr int hopsToGetUsed = 40;
constexpr int hopsToLearn = 8;
constexpr double follow = 0.1;

} // namespace

void NoiseMeter::add(const WeightedChunk& chunk)
{
    sum += chunk.squaresOfNoise;
    sumA += chunk.squaresOfNoiseA;
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
