// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Simulation/Glide.h"
#include "Simulation/MicrophoneNoise.h"
#include "Simulation/Oscillator.h"
#include "Simulation/Random.h"
#include "Simulation/Scenario.h"

#include <cstdint>
#include <span>

// Purpose: the samples an interface would deliver from the bench of a Scenario: the coupler's microphone
//          (channel 1) and the sensed drive (channel 2). The truth is trueLevel_dBSPL.
// Shapes:  blocks of any size. The samples depend on scenario, rate, seed and on the sample at which `put`
//          was called, never on how the stream was cut.
// Units:   samples in full scale; the input clips at +-1 as a converter does.
// Ranges:  sample rate 8 to 384 kHz (a precondition); frequencies of the scenario below a sixth of it.
// Errors:  `put` answers false and changes nothing for an earphone that is not there or a drive that is no
//          voltage.
// Thread:  audio, `put` too: whoever shares the bench between threads hands changes over. After
//          construction nothing allocates, locks or throws.
namespace couplet {

class SimulatedBench
{
public:
    SimulatedBench(const Scenario&, double sampleRate_Hz, std::uint64_t seed) noexcept;

    // What is there fades out in half a second, then the new fades in in another; a new drive alone glides.
    [[nodiscard]] bool put(const OnCoupler&) noexcept;

    // True when every fade has ended: the tone stands at its true level.
    bool settled() const noexcept;

    // `drive` is as long as `microphone`, or empty when nobody asks for it.
    void render(std::span<float> microphone, std::span<float> drive) noexcept;

private:
    // How the present tone sounds, relative to its fundamental.
    struct Voice
    {
        Oscillator tone;
        double secondOrder = 0.0, thirdOrder = 0.0;
    };

    Voice voiceOf(const OnCoupler&) const noexcept;
    double microphoneAmplitude(const OnCoupler&) const noexcept;
    double driveAmplitude(const OnCoupler&) const noexcept;
    void startWanted() noexcept;
    double nextWander() noexcept;
    double nextHum() noexcept;

    Scenario scenario;
    double rate_Hz;
    SplitMix64 seeds;
    MicrophoneNoise microphoneNoise;
    Xoshiro256 driveNoise;
    Oscillator mains, slowWander, fasterWander;
    double humAmplitude;

    OnCoupler wanted, sounding;
    Voice voice;
    Glide microphoneLevel, driveLevel;
};

} // namespace couplet
