// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/NoiseMeter.h"

#include <algorithm>

namespace couplet {
namespace {

// A hop is disturbed when what is left in it is four times what it usually is, and may harm the tone's level: above
// -37 dB of the tone, 1.4 % of its amplitude. Were all of that at the tone's own frequency and phase, it would move this
// hop's level by 0.12 dB, and the mean of 5 s by 0.001 dB. Of a voice, a tick or a knock a hundredth or less lies within
// the 20 Hz that a hop cannot part from the tone. After two seconds of it, it is what is usual. What is usual is the least of eight hops at first, and
// again when a tone comes after a pause: it was quieter before whatever plays it was switched on.
constexpr double muchMore = 4.0;
constexpr double ofTone = 2e-4;
constexpr int hopsToGetUsed = 40;
constexpr int hopsOfPause = 4;
constexpr double leastNoise = 1e-20; // below is digital silence, which is no noise that comes again
constexpr double follow = 0.1;

constexpr double leastKept = 0.05; // what is left of a wobbling tone is not known exactly

} // namespace

void NoiseMeter::add(const WeightedChunk& chunk)
{
    sum += chunk.squaresOfNoise;
    sumA += chunk.squaresOfNoiseA;
    sumForKnocks += chunk.squaresForKnocks;
    samples += chunkLength;
}

void NoiseMeter::endHop(double tonePower, const WobbleLeft& wobble)
{
    hopPower = samples > 0 ? sum / samples : 0.0;
    hopPowerA = samples > 0 ? sumA / samples : 0.0;
    const double heard = samples > 0 ? sumForKnocks / samples : 0.0;
    const auto less = [](double power, double left) { return std::max(power - left, leastKept * power); };
    hopPower = less(hopPower, wobble.left);
    hopPowerA = less(hopPowerA, wobble.gainA * wobble.gainA * wobble.left);
    const double beside = less(heard, wobble.left);
    sum = sumA = sumForKnocks = 0.0;
    samples = 0;
    if (tonePower > 0.0 && pause >= hopsOfPause)
        learnt = 0;
    pause = tonePower > 0.0 ? 0 : std::min(pause + 1, hopsOfPause);
    isDisturbed = false;
    if (beside < leastNoise)
        return;
    if (learnt < hopsToLearn) {
        usual = learnt == 0 ? heard : std::min(usual, heard);
        ++learnt;
        disturbedHops = 0;
        return;
    }
    isDisturbed = beside > muchMore * usual && beside > ofTone * tonePower + wobble.unsure;
    disturbedHops = isDisturbed ? disturbedHops + 1 : 0;
    if (disturbedHops >= hopsToGetUsed)
        usual = beside;
    else if (!isDisturbed)
        usual += follow * (beside - usual);
}

} // namespace couplet
