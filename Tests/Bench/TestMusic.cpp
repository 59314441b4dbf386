// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveTone.h"
#include "Bench/Reading.h"
#include "Signal/Analyser.h"
#include "Signal/Phasor.h"
#include "Simulation/Random.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

// Invented music: it only has to be what a bench's tone is not.
using namespace couplet;

namespace {

constexpr double rate_Hz = 48000.0, length_s = 12.0;

using Samples = std::vector<float>;

double uniform(Xoshiro256& random)
{
    return static_cast<double>(random.next() >> 11) * 0x1p-53;
}

// Strings that are plucked: five partials, each dying away the faster the higher it is.
void pluck(Samples& samples, double at_s, double note_Hz, double amplitude)
{
    const auto from = static_cast<std::size_t>(at_s * rate_Hz);
    for (std::size_t i = from; i < samples.size(); ++i) {
        const double t = static_cast<double>(i - from) / rate_Hz;
        double sum = 0.0;
        for (int k = 1; k <= 5; ++k)
            sum += std::exp(-t * k / 0.8) / k * std::sin(2.0 * pi * note_Hz * k * t);
        samples[i] += static_cast<float>(amplitude * sum);
    }
}

Samples melody(std::uint64_t seed, int voices)
{
    SplitMix64 seeds(seed);
    Xoshiro256 random(seeds);
    Samples samples(static_cast<std::size_t>(length_s * rate_Hz));
    for (int voice = 0; voice < voices; ++voice)
        for (double at_s = 0.0; at_s < length_s; at_s += 0.25 * std::ceil(4.0 * uniform(random)))
            pluck(samples, at_s, 220.0 * std::exp2(std::floor(30.0 * uniform(random)) / 12.0), 0.05);
    return samples;
}

// A sung note that is held: its pitch goes up and down by a third of a semitone six times a second, its strength too.
Samples sung()
{
    Samples samples(static_cast<std::size_t>(length_s * rate_Hz));
    double phase = 0.0;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const double vibrato = std::sin(2.0 * pi * 6.0 * static_cast<double>(i) / rate_Hz);
        phase += 2.0 * pi * 440.0 * std::exp2(vibrato / 36.0) / rate_Hz;
        samples[i] = static_cast<float>(0.1 * (1.0 + 0.15 * vibrato) * (std::sin(phase) + 0.3 * std::sin(2.0 * phase)));
    }
    return samples;
}

struct Told
{
    int readings = 0, levels = 0, asIfSteady = 0;
};

// Ten times a second, as a screen shows it.
Told toldOf(const Samples& samples)
{
    Told told;
    Analyser analyser(rate_Hz);
    LiveTone live;
    analyser.add(samples.data(), nullptr, static_cast<int>(samples.size()), [&](const Estimate& e) {
        live.add(e);
        if (e.hop % 2 != 0)
            return;
        ++told.readings;
        const Reading reading = makeReading(live.summary(), Setup{});
        if (!reading.tone.level_dBFS)
            return;
        ++told.levels;
        told.asIfSteady += std::none_of(reading.notes.begin(), reading.notes.end(), [](const std::string& note) {
            return note.find("unsteady") != std::string::npos || note.find("just begun") != std::string::npos ||
                   note.find("of the sound is not this tone") != std::string::npos;
        });
    });
    return told;
}

} // namespace

TEST_CASE("a note that music holds reads unsteady, as just begun or as not alone")
{
    Told all;
    const auto add = [&](const Samples& samples) {
        const Told told = toldOf(samples);
        all.readings += told.readings;
        all.levels += told.levels;
        all.asIfSteady += told.asIfSteady;
    };
    for (std::uint64_t seed = 1; seed <= 4; ++seed)
        for (const int voices : {1, 3})
            add(melody(seed, voices));
    add(sung());
    CAPTURE(all.readings, all.levels, all.asIfSteady);
    CHECK(all.readings > 1000);
    CHECK(all.levels > 0); // else nothing is claimed here
    CHECK(all.asIfSteady == 0);
}
