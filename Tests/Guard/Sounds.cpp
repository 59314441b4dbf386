// SPDX-License-Identifier: GPL-3.0-or-later
#include "Dice.h"
#include "Parts.h"
#include "World.h"

namespace couplet::tests {
namespace {

enum Kind {
    pressed,
    slid,
    switched,
    knocked,
    sweepOfOctaves,
    sweepOfHertz,
    steppedTones,
    bursts,
    spoken,
    noiseFades,
    clipped,
    plucked,
    organ,
    flute,
    crescendo,
    dense,
    drums,
    kinds
};

constexpr const char* names[] = {"calibrator, pressed on",
                                 "calibrator, slid on in 0.3 to 4 s",
                                 "calibrator, switched",
                                 "calibrator, with knocks",
                                 "sweep, by octaves",
                                 "sweep, by hertz",
                                 "tones in steps",
                                 "tone bursts",
                                 "speech",
                                 "noise, fading in",
                                 "clipped tone",
                                 "music, plucked",
                                 "music, organ",
                                 "music, flute",
                                 "music, crescendo",
                                 "music, dense and limited",
                                 "music with drums"};

// The envelope of a calibrator that comes on in one of four ways, and goes off.
struct Envelope
{
    Kind kind;
    double start_s, length_s, off_s, over_dB;

    double at(double t) const
    {
        const double x = t - start_s;
        const double gone = t < off_s ? 1.0 : std::exp(-(t - off_s) / 0.03);
        if (x < 0.0)
            return kind == slid ? amplitude(-50.0) : 0.0;
        if (kind == switched)
            return (1.0 - std::exp(-x / 0.004)) * gone;
        if (kind == slid)
            return amplitude(-50.0 * (1.0 - std::pow(std::min(1.0, x / length_s), 0.6))) * gone;
        // Pressed: air is pushed in, so the tone overshoots and settles.
        const double rise = std::min(1.0, x / 0.07);
        return rise * rise * amplitude(over_dB * std::exp(-x / 0.1) - std::max(0.0, over_dB)) * gone;
    }
};

} // namespace

std::vector<float> speech(Dice& dice, double rate, double seconds, double peak_dBFS)
{
    std::vector<float> out(static_cast<std::size_t>(rate * seconds));
    const double pitch = dice.spread(85.0, 260.0);
    double phase = 0.0, largest = 1e-9;
    for (std::size_t i = 0; i < out.size();) {
        const auto length = static_cast<std::size_t>(dice.between(0.05, 0.3) * rate);
        const bool voiced = dice.chance(0.7), silent = dice.chance(0.2);
        Filter formants[3];
        const double f[] = {dice.spread(280.0, 850.0), dice.spread(850.0, 2500.0), dice.between(2400.0, 3300.0)};
        for (int k = 0; k < 3; ++k)
            formants[k] = Filter::resonance(std::min(f[k], 0.42 * rate), 70.0 + 60.0 * k, rate);
        const double loud = amplitude(dice.between(-14.0, 0.0)), glide = dice.between(-0.25, 0.25);
        for (std::size_t k = 0; k < length && i < out.size(); ++k, ++i) {
            const double x = static_cast<double>(k) / static_cast<double>(length);
            phase += pitch * (1.0 + glide * x) / rate;
            double excitation = 0.02 * dice.noise();
            if (!voiced)
                excitation = 0.2 * dice.noise();
            else if (phase >= 1.0)
                excitation += rate / pitch * 0.1;
            phase -= std::floor(phase);
            const double envelope = silent ? 0.0 : loud * std::pow(std::sin(0.5 * tau * x), 0.5);
            const double y =
                envelope * (formants[0](excitation) + 0.6 * formants[1](excitation) + 0.3 * formants[2](excitation));
            out[i] = static_cast<float>(y);
            largest = std::max(largest, std::abs(y));
        }
    }
    for (float& y : out)
        y *= static_cast<float>(amplitude(peak_dBFS) / largest);
    return out;
}

std::vector<float> music(Dice& dice, Music what, double rate, double seconds, double peak_dBFS)
{
    std::vector<float> out(static_cast<std::size_t>(rate * seconds));
    const double beat = dice.between(0.16, 0.7);
    const bool single = what == Music::flute, plays = what != Music::plucked;
    const int voices = single ? 1 : what == Music::dense ? 7 : what == Music::organ ? 4 : dice.whole(2, 4);
    for (int voice = 0; voice < voices; ++voice)
        for (double t = 0.03 * voice; t < seconds;) {
            const double length = what == Music::organ ? dice.between(0.5, 4.0) : beat * dice.whole(1, 4);
            const double f = 82.4 * std::pow(2.0, dice.whole(single ? 19 : 0, 40) / 12.0); // equal temperament from E2
            const double loud = amplitude(dice.between(-9.0, 0.0)), tilt = single ? 2.3 : dice.between(0.8, 1.8);
            const double decay = plays ? 1e9 : dice.between(0.15, 1.2),
                         attack = plays ? dice.between(0.02, 0.2) : 0.004;
            const double vibrato = what == Music::organ || !plays ? 0.0 : dice.between(0.0, 0.006);
            const int partials = single ? 4 : 9;
            const auto first = static_cast<std::size_t>(t * rate);
            const auto last =
                std::min(out.size(), static_cast<std::size_t>((t + length * dice.between(0.7, 1.0)) * rate));
            for (int k = 1; k <= partials && f * k < 0.45 * rate; ++k) {
                std::complex<double> z = std::polar(loud * std::pow(k, -tilt), tau * dice.unit()), turn;
                for (std::size_t i = first; i < last; ++i) {
                    const double x = static_cast<double>(i - first) / rate, left = static_cast<double>(last - i) / rate;
                    if ((i - first) % 32 == 0)
                        turn = std::polar(1.0, tau * f * k * (1.0 + vibrato * std::sin(tau * 5.3 * x)) / rate);
                    z *= turn;
                    const double fades =
                        std::min({1.0, x / attack, left / 0.03}) * (plays ? 1.0 : 1.0 / (1.0 + x * x / decay / decay));
                    out[i] += static_cast<float>(z.real() * fades);
                }
            }
            t += length;
        }
    if (what == Music::dense || what == Music::drums)
        for (int stroke = 0; stroke * 0.5 * beat < seconds; ++stroke) {
            const double t = stroke * 0.5 * beat;
            const double loud = amplitude(dice.between(-3.0, 8.0)), fall = dice.between(0.01, 0.09),
                         f = dice.spread(50.0, 260.0);
            const bool snare = dice.chance(0.5);
            const auto first = static_cast<std::size_t>(t * rate);
            for (std::size_t i = first; i < out.size() && static_cast<double>(i - first) < 6.0 * fall * rate; ++i) {
                const double x = static_cast<double>(i - first) / rate;
                const double hit =
                    snare ? 0.5 * dice.noise() : std::sin(tau * f * x * (1.0 + 0.5 * std::exp(-x / 0.01)));
                out[i] += static_cast<float>(loud * std::exp(-x / fall) * hit);
            }
        }
    if (what == Music::crescendo)
        for (std::size_t i = 0; i < out.size(); ++i)
            out[i] *=
                static_cast<float>(amplitude(-36.0 + 36.0 * static_cast<double>(i) / static_cast<double>(out.size())));
    float largest = 1e-9f;
    for (const float y : out)
        largest = std::max(largest, std::abs(y));
    for (float& y : out) {
        const double x = static_cast<double>(y / largest);
        y = static_cast<float>(amplitude(peak_dBFS) * (what == Music::dense ? std::tanh(3.0 * x) : x));
    }
    return out;
}

int soundKinds()
{
    return kinds;
}
const char* soundName(int kind)
{
    return names[kind];
}
bool isPromised(int kind)
{
    return kind <= sweepOfHertz || kind >= plucked;
}

Sound sound(int kind, std::uint64_t seed)
{
    Dice dice(seed * 64 + static_cast<std::uint64_t>(kind));
    constexpr double rates[] = {48000.0, 48000.0, 44100.0, 96000.0, 16000.0};
    constexpr double seconds = 5.0;
    Sound s{dice.one(rates), 16 << dice.whole(0, 9), {}};
    const double rate = s.rate_Hz, peak_dBFS = dice.between(-24.0, 0.0), loud = amplitude(peak_dBFS);
    if (kind == spoken)
        s.samples = speech(dice, rate, seconds, peak_dBFS);
    else if (kind >= plucked)
        s.samples = music(dice, static_cast<Music>(kind - plucked), rate, seconds, peak_dBFS);
    else
        s.samples.resize(static_cast<std::size_t>(rate * seconds));
    const double base = dice.chance(0.6) ? 1000.0 : dice.chance(0.5) ? 250.0 : dice.spread(100.0, 6000.0);
    const Envelope envelope{kind == knocked ? pressed : static_cast<Kind>(kind), dice.between(0.3, 1.2),
                            dice.spread(0.3, 4.0), dice.between(2.0, 9.0), dice.between(-6.0, 6.0)};
    const double on_s = dice.spread(0.03, 0.8), gap_s = dice.chance(0.3) ? 0.0 : dice.spread(0.02, 0.6);
    double phase = 0.0, f = base, knock_s = -9.0;
    long step = -1;
    for (std::size_t i = 0; i < s.samples.size(); ++i) {
        const double t = static_cast<double>(i) / rate, x = t - envelope.start_s;
        double y = static_cast<double>(s.samples[i]) / loud, level = x > 0.0 ? std::min(1.0, x / 0.01) : 0.0;
        if (kind == sweepOfOctaves)
            f = 30.0 * std::pow(0.42 * rate / 30.0, std::clamp(x / (seconds - 1.0), 0.0, 1.0));
        else if (kind == sweepOfHertz)
            f = 50.0 + (std::min(8000.0, 0.42 * rate) - 50.0) * std::clamp(x / (seconds - 1.0), 0.0, 1.0);
        else if (kind <= knocked)
            level = envelope.at(t);
        else if (kind == noiseFades)
            level = amplitude(-50.0 * (1.0 - std::clamp(x / envelope.length_s, 0.0, 1.0)));
        else if (kind == clipped)
            level *= 4.0;
        else if ((kind == steppedTones || kind == bursts) && x > 0.0) {
            const auto at = static_cast<long>(x / (on_s + gap_s));
            const double within = x - static_cast<double>(at) * (on_s + gap_s);
            if (at != step && kind == steppedTones)
                f = std::min(0.4 * rate, 100.0 * std::pow(2.0, dice.between(0.0, 6.0)));
            step = at;
            level = within < on_s ? std::min({1.0, within / 0.002, (on_s - within) / 0.002}) : 0.0;
        }
        phase += tau * f / rate;
        if (kind == noiseFades)
            y = 0.3 * level * dice.noise();
        else if (kind < plucked && kind != spoken)
            y = level * std::sin(phase);
        if (kind == knocked) {
            if (x > 0.0 && t - knock_s > 0.4 && dice.chance(1.5 / rate))
                knock_s = t;
            if (t >= knock_s)
                y +=
                    1.5 * std::exp(-(t - knock_s) / 0.02) * (0.5 * dice.noise() + std::sin(tau * 85.0 * (t - knock_s)));
        }
        const double floor = 1e-4;
        s.samples[i] = static_cast<float>(std::clamp(loud * y, -1.0, 1.0) + floor * dice.noise());
        s.samples[i] = std::clamp(s.samples[i], -1.0f, 1.0f);
    }
    return s;
}

} // namespace couplet::tests
