// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/AudioHalf.h"

#include <cstdint>
#include <optional>

// Purpose: keeps the simulated bench going in the standalone while no audio device calls: it needs none.
// Units:   s of any steady clock.
// Thread:  message.
namespace couplet {

class Standby
{
public:
    explicit Standby(AudioHalf& a) : audio(a) {}

    // To be called some twenty times a second. Plays what the simulated bench made since the last call, once the
    // device has been silent for a second.
    void tick(const AudioSettings&, double now_s);

private:
    AudioHalf& audio;
    std::int64_t own = 0, ofDevice = -1; // blocks
    double deviceHeard_s = 0.0;
    std::optional<double> playedUntil_s;
};

} // namespace couplet
