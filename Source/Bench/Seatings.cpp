// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/Seatings.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

using Maybe = std::optional<double>;

// What one seating does not know, the others' figure stands for.
Maybe larger(const Maybe& a, const Maybe& b)
{
    return a && b ? std::max(*a, *b) : a ? a : b;
}
Maybe smaller(const Maybe& a, const Maybe& b)
{
    return a && b ? std::min(*a, *b) : a ? a : b;
}

void takeWorst(ToneSummary& all, const ToneSummary& s)
{
    all.steadiness_dB = larger(all.steadiness_dB, s.steadiness_dB);
    if (std::abs(s.slope_dBPerSecond) > std::abs(all.slope_dBPerSecond)) {
        all.slope_dBPerSecond = s.slope_dBPerSecond;
        all.slopeU_dBPerSecond = s.slopeU_dBPerSecond;
    }
    if (std::abs(s.thirdInPhase) > std::abs(all.thirdInPhase))
        all.thirdInPhase = s.thirdInPhase;
    all.distortion_percent = larger(all.distortion_percent, s.distortion_percent);
    all.distortionAndNoise_percent = larger(all.distortionAndNoise_percent, s.distortionAndNoise_percent);
    all.noise_dBFS = larger(all.noise_dBFS, s.noise_dBFS);
    all.noiseA_dBFS = larger(all.noiseA_dBFS, s.noiseA_dBFS);
    if (s.hum_dBFS && (!all.hum_dBFS || *s.hum_dBFS > *all.hum_dBFS)) {
        all.hum_dBFS = s.hum_dBFS;
        all.hum = s.hum;
    }
    all.wobbles = all.wobbles || s.wobbles;
    all.humBound_dB = std::max(all.humBound_dB, s.humBound_dB);
    all.headroom_dB = smaller(all.headroom_dB, s.headroom_dB);
    all.clippedSamples += s.clippedSamples;
    all.clippedElsewhere += s.clippedElsewhere;
    all.brokenSamples += s.brokenSamples;
    all.dc_dBFS = larger(all.dc_dBFS, s.dc_dBFS);
    if (s.stretch_s < all.stretch_s) {
        all.stretch_s = s.stretch_s;
        all.begins = s.begins;
    }
    all.disturbances += s.disturbances;
    all.duration_s += s.duration_s;
}

} // namespace

ToneSummary together(const std::vector<ToneSummary>& seatings)
{
    ToneSummary all = seatings.front();
    if (seatings.size() == 1)
        return all;
    const auto count = static_cast<double>(seatings.size());
    double level_dBFS = 0.0, frequency_Hz = 0.0, squares = 0.0;
    for (std::size_t i = 0; i < seatings.size(); ++i) {
        const ToneSummary& s = seatings[i];
        if (i > 0)
            takeWorst(all, s);
        level_dBFS += *s.level_dBFS / count;
        frequency_Hz += s.frequency->value / count;
        squares += s.scatter_dB * s.scatter_dB;
    }
    all.level_dBFS = level_dBFS;
    all.frequency = Hertz(frequency_Hz);
    all.scatter_dB = std::sqrt(squares) / count; // of the mean
    return all;
}

} // namespace couplet
