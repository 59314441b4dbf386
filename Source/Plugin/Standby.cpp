// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Standby.h"

#include <algorithm>

namespace couplet {
namespace {

constexpr double patience_s = 1.0;
constexpr double rate_Hz = 48000.0;    // when no device has said one
constexpr double longestStep_s = 0.25; // after a pause of the whole computer

} // namespace

void Standby::tick(const AudioSettings& settings, double now_s)
{
    const auto device = audio.blocks() - own;
    if (device != ofDevice)
        deviceHeard_s = now_s;
    ofDevice = device;
    if (!settings.simulated || now_s - deviceHeard_s < patience_s) {
        playedUntil_s.reset();
        return;
    }
    if (!audio.measures())
        audio.prepare(rate_Hz);
    const double step_s = std::min(now_s - playedUntil_s.value_or(now_s), longestStep_s);
    playedUntil_s = now_s;
    if (const int samples = static_cast<int>(step_s * audio.sampleRate_Hz()); samples > 0) {
        audio.process(nullptr, 0, samples, settings);
        ++own;
    }
}

} // namespace couplet
