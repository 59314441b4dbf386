// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Fuzz/Sounds.h"

#include "Quantities/Decibels.h"

#include <algorithm>
#include <bit>
#include <limits>
#include <numbers>

namespace couplet::fuzz {
namespace {

using Float = std::numeric_limits<float>;

// A host may announce any rate, and none; the sounds are made for one that could be.
double rateToPlayAt(double announced_Hz)
{
    return std::isfinite(announced_Hz) ? std::clamp(announced_Hz, 1000.0, 1e6) : 48000.0;
}

double somewhereBelowNyquist(Chance& chance, double rate_Hz)
{
    return chance.evenInRatio(15.0, 0.49 * std::max(rate_Hz, 1000.0));
}

} // namespace

Sound::Sound(Chance& chance, double rate_Hz)
    : kind(static_cast<Kind>(chance.whole(0, static_cast<int>(Kind::count) - 1))), rate(rateToPlayAt(rate_Hz)),
      frequency(kind == Kind::hum ? chance.oneOf({50.0, 60.0}) : somewhereBelowNyquist(chance, rate)),
      amplitude(ratioFrom_dB(chance.between(-120.0, 12.0)))
{
}

Sound::Sound(double tone_Hz, double level_dBFS, double rate_Hz)
    : rate(rate_Hz), frequency(tone_Hz), amplitude(ratioFrom_dB(level_dBFS))
{
}

double Sound::sine()
{
    phase = std::fmod(phase + frequency / rate, 1.0);
    return amplitude * std::sin(2.0 * std::numbers::pi * phase);
}

float Sound::next(Chance& chance)
{
    const auto sign = [&] { return chance.once(2) ? -1.0f : 1.0f; };
    switch (kind) {
    case Kind::silence:
    case Kind::count:
        return sign() * 0.0f;
    case Kind::tone:
        return static_cast<float>(sine());
    case Kind::square:
        return sine() < 0.0 ? -1.0f : 1.0f;
    case Kind::bits:
        return std::bit_cast<float>(static_cast<std::uint32_t>(chance.bits()));
    case Kind::nan:
        return chance.once(2) ? Float::quiet_NaN() : -Float::quiet_NaN();
    case Kind::infinity:
        return sign() * Float::infinity();
    case Kind::subnormal:
        return sign() * std::bit_cast<float>(static_cast<std::uint32_t>(chance.bits() & 0x7fffffu));
    case Kind::huge:
        return sign() * static_cast<float>(chance.evenInRatio(10.0, 3.4e38));
    case Kind::noise:
        return static_cast<float>(amplitude * chance.normal());
    case Kind::jumps:
        if (left-- <= 0) {
            left = chance.whole(1, static_cast<int>(rate));
            frequency = somewhereBelowNyquist(chance, rate);
            amplitude = ratioFrom_dB(chance.between(-80.0, 0.0));
            phase = chance.share();
        }
        return static_cast<float>(sine());
    case Kind::hum: {
        const double x = sine();
        return static_cast<float>(x + 0.5 * x * std::abs(x) / amplitude + 1e-4 * chance.normal());
    }
    case Kind::constant:
        return static_cast<float>(amplitude);
    case Kind::spoilt: {
        const auto x = static_cast<float>(sine());
        return chance.once(1000) ? chance.oneOf({Float::quiet_NaN(), Float::infinity(), Float::max(), -1e20f}) : x;
    }
    case Kind::dropped:
        if (left-- <= 0) {
            gone = !gone;
            left = chance.whole(1, static_cast<int>(gone ? 0.1 * rate : rate));
            last = chance.once(2) ? 0.0f : last;
        }
        if (const auto x = static_cast<float>(sine()); !gone)
            last = x;
        return last;
    }
    return 0.0f;
}

void Sound::fill(std::span<float> samples, Chance& chance)
{
    for (float& sample : samples)
        sample = next(chance);
}

} // namespace couplet::fuzz
