// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Phasor.h"
#include "Signal/Sizes.h"
#include "Simulation/Random.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <vector>

// Purpose: samples with a known truth: a tone and all that may stand beside it.
// Units:   amplitudes as peak, full scale = 1; Hz.
namespace couplet::test {

struct Truth
{
    double sampleRate_Hz = 48000.0;
    double tone_Hz = 1000.04, amplitude = 0.1, phase = 0.3;
    double second = 0.0, third = 0.0; // harmonics, of the tone
    double hum_Hz = 50.0, hum = 0.0;  // its orders 2 and 3 have 0.3 and 0.5 of the first
    double constant = 0.0;
    double noise = 0.0; // RMS, white over the whole band

    // Noise for a ratio of the tone's power to the noise's.
    Truth& withSnr_dB(double snr_dB)
    {
        noise = amplitude * std::sqrt(0.5) * std::pow(10.0, -snr_dB / 20.0);
        return *this;
    }
};

class Stream
{
public:
    explicit Stream(const Truth& t, std::uint64_t seed = 1) : truth(t), seeds(seed), random(seeds) { set(t); }

    // From the next sample on; what stays the same runs on without a break.
    void set(const Truth& t)
    {
        truth = t;
        const double perHz = 2.0 * pi / t.sampleRate_Hz;
        toneStep = unitPhasor(t.tone_Hz * perHz);
        humStep = unitPhasor(t.hum_Hz * perHz);
        if (!begun)
            tone = unitPhasor(t.phase);
        begun = true;
    }

    float next()
    {
        double x = truth.constant + truth.amplitude * tone.re;
        if (truth.second != 0.0 || truth.third != 0.0) {
            const Phasor two = tone * tone, three = two * tone;
            x += truth.amplitude * (truth.second * two.im + truth.third * three.re);
        }
        if (truth.hum != 0.0) {
            const Phasor two = hum * hum, three = two * hum;
            x += truth.hum * (hum.re + 0.3 * two.im + 0.5 * three.re);
            hum = hum * humStep;
        }
        if (truth.noise != 0.0)
            x += truth.noise * random.nextNormal();
        tone = tone * toneStep;
        if (++count % 4096 == 0) { // rounding must not let the amplitude drift
            tone = (1.0 / magnitude(tone)) * tone;
            hum = (1.0 / magnitude(hum)) * hum;
        }
        return static_cast<float>(x);
    }

    std::array<float, chunkLength> chunk()
    {
        std::array<float, chunkLength> samples;
        for (float& sample : samples)
            sample = next();
        return samples;
    }

    std::vector<float> seconds(double duration_s)
    {
        std::vector<float> samples(static_cast<std::size_t>(std::lround(duration_s * truth.sampleRate_Hz)));
        for (float& sample : samples)
            sample = next();
        return samples;
    }

private:
    Truth truth;
    SplitMix64 seeds;
    Xoshiro256 random;
    Phasor tone{1.0, 0.0}, toneStep, hum{1.0, 0.0}, humStep;
    std::int64_t count = 0;
    bool begun = false;
};

// Pink noise: white noise through the filter by Paul Kellet (from memory), within 0.05 dB of -3 dB/octave from 10 Hz
// to 20 kHz at 44.1 kHz.
class PinkNoise
{
public:
    explicit PinkNoise(std::uint64_t seed) : seeds(seed), random(seeds) {}

    float next(double scale)
    {
        const double white = random.nextNormal();
        constexpr std::array<double, 6> pole{0.99886, 0.99332, 0.96900, 0.86650, 0.55000, -0.7616};
        constexpr std::array<double, 6> gain{0.0555179, 0.0750759, 0.1538520, 0.3104856, 0.5329522, -0.0168980};
        double sum = late + 0.5362 * white;
        for (std::size_t i = 0; i < pole.size(); ++i) {
            state[i] = pole[i] * state[i] + gain[i] * white;
            sum += state[i];
        }
        late = 0.115926 * white;
        return static_cast<float>(scale * sum);
    }

private:
    SplitMix64 seeds;
    Xoshiro256 random;
    std::array<double, 6> state{};
    double late = 0.0;
};

} // namespace couplet::test
