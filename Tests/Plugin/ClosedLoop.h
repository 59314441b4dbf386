// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

// Purpose: the plainest loop around a plugin: what it plays comes back a block later through one resonance, too loud, into
//          an input that clips.
// Units:   samples; full scale 1.
// Thread:  one.
namespace couplet::tests {

class ClosedLoop
{
public:
    explicit ClosedLoop(int blockSamples) : played(static_cast<std::size_t>(blockSamples), 0.0f) {}

    float gain = 2.0f;

    void hear(float* input)
    {
        for (std::size_t i = 0; i < played.size(); ++i) {
            const double y = 0.0031 * static_cast<double>(played[i] - before2) + 1.9768 * ring1 - 0.9938 * ring2;
            before2 = before1;
            before1 = played[i];
            ring2 = ring1;
            ring1 = y;
            chance = chance * 1664525u + 1013904223u;
            const double noise = 1e-3 * (static_cast<double>(chance >> 8) / 8388608.0 - 1.0);
            input[i] = static_cast<float>(std::clamp(static_cast<double>(gain) * y + noise, -1.0, 1.0));
        }
    }
    void play(const float* output) { std::copy_n(output, played.size(), played.begin()); }

private:
    std::vector<float> played;
    float before1 = 0.0f, before2 = 0.0f;
    double ring1 = 0.0, ring2 = 0.0;
    std::uint32_t chance = 1;
};

} // namespace couplet::tests
