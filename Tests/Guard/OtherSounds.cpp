// SPDX-License-Identifier: GPL-3.0-or-later
#include "Dice.h"
#include "Parts.h"
#include "World.h"

// Held out: none of these was heard while the guard was made.
namespace couplet::tests {
namespace {

enum Kind {
    pistonphone,
    looseCalibrator,
    twoLevels,
    fastSweep,
    sweptThere,
    bells,
    strings,
    distorted,
    whistle,
    sung,
    sawPad,
    kickedPad,
    beating,
    siren,
    keyed,
    twoToneKeys,
    shiftKeyed,
    buzz,
    manyTones,
    noiseInBursts,
    kinds
};

constexpr const char* names[] = {"pistonphone with its motor",
                                 "calibrator that fits loosely",
                                 "calibrator of two levels",
                                 "sweep of 0.3 to 1 s, again and again",
                                 "sweep up and down",
                                 "music, bells",
                                 "music, bowed strings in a hall",
                                 "music, distorted chords",
                                 "music, whistled",
                                 "music, sung vowels",
                                 "music, sawtooth chords",
                                 "music, chords ducked by a drum",
                                 "two tones that beat",
                                 "siren",
                                 "keyed tone (Morse)",
                                 "two-tone keys",
                                 "data, shift keyed",
                                 "mains buzz, plugged in",
                                 "31 tones at once",
                                 "noise bursts"};

constexpr double seconds = 5.0;

double saw(double turns)
{
    return 2.0 * (turns - std::floor(turns)) - 1.0;
}

// A plain reverberator: four combs, so that notes hang on.
struct Hall
{
    std::vector<Past> lines;
    long lengths[4];
    Hall(Dice& dice, double rate)
    {
        for (long& length : lengths) {
            length = std::lround(dice.between(0.023, 0.051) * rate);
            lines.emplace_back(static_cast<std::size_t>(length) + 2);
        }
    }
    double operator()(double x)
    {
        double out = 0.0;
        for (std::size_t k = 0; k < 4; ++k) {
            const double y = static_cast<double>(lines[k][lines[k].size() - lengths[k]]);
            lines[k].push(static_cast<float>(x + 0.86 * y));
            out += 0.25 * y;
        }
        return x + out;
    }
};

struct Player
{
    Dice& dice;
    double rate;
    double start_s, beat_s, f, f2, depth, speed, off_s;
    double phase[40] = {}, note[6] = {};
    long last = -1;
    bool on = true;
    Hall hall;

    Player(Dice& d, double r)
        : dice(d), rate(r), start_s(d.between(0.2, 0.8)), beat_s(d.spread(0.12, 1.2)), f(d.spread(150.0, 3000.0)),
          f2(d.spread(0.7, 40.0)), depth(d.between(0.0, 1.0)), speed(d.spread(0.2, 8.0)), off_s(d.between(2.0, 9.0)),
          hall(d, r)
    {
        if (f > 0.4 * r)
            f = 0.4 * r;
    }
    double turn(int k, double hertz)
    {
        phase[k] += std::min(hertz, 0.48 * rate) / rate;
        phase[k] -= std::floor(phase[k]);
        return std::sin(tau * phase[k]);
    }
    bool isNew(double x, double length)
    {
        const auto at = static_cast<long>(x / length);
        const bool another = at != last;
        last = at;
        return another;
    }
    void chord(double low, double octaves)
    {
        for (double& n : note)
            n = low * std::pow(2.0, std::floor(12.0 * dice.between(0.0, octaves)) / 12.0);
    }
    double tone(Kind kind, double x)
    {
        const double since = x - std::floor(x / beat_s) * beat_s;
        switch (kind) {
        case pistonphone:
            return (1.0 - std::exp(-x / 0.15)) *
                       (turn(0, 250.0 * (1.0 + 0.002 * std::sin(tau * x))) + 0.02 * turn(1, 500.0)) +
                   0.01 * dice.noise();
        case looseCalibrator:
            return turn(0, 1000.0) * std::min(1.0, x / 0.1) *
                   (1.0 - 0.3 * depth * (0.5 + 0.5 * std::sin(tau * speed * x)));
        case twoLevels:
            return turn(0, 1000.0) * (std::fmod(x, 2.0) < 1.0 ? amplitude(-20.0) : 1.0);
        case fastSweep:
            return turn(0, 60.0 * std::pow(0.4 * rate / 60.0, std::fmod(x, 0.3 + 0.7 * depth) / (0.3 + 0.7 * depth)));
        case sweptThere:
            return turn(0, 100.0 * std::pow(60.0, 0.5 - 0.5 * std::cos(tau * 0.3 * x)));
        case bells:
            if (isNew(x, beat_s))
                chord(220.0, 3.0);
            return 0.5 * std::exp(-since / 0.6) *
                   std::sin(tau * std::fmod(note[0] * x, 1.0) + 3.0 * std::exp(-since / 0.3) * turn(1, 1.4 * note[0]));
        case whistle:
            return turn(0, 900.0 * std::pow(2.0, depth * std::sin(tau * 0.4 * x)) *
                               (1.0 + 0.006 * std::sin(tau * 5.0 * x))) +
                   0.02 * dice.noise();
        case beating:
            return 0.5 * (turn(0, f) + turn(1, f + f2));
        case siren:
            return turn(0, 700.0 + 400.0 * std::sin(tau * 0.25 * speed * x));
        case keyed:
            if (isNew(x, 0.08))
                on = dice.chance(0.6);
            return on ? turn(0, 700.0) : 0.0;
        case twoToneKeys: {
            if (isNew(x, 0.1 + 0.2 * depth)) {
                note[0] = 697.0 * std::pow(1.105, dice.whole(0, 3)); // ITU-T Q.23, nearly
                note[1] = 1209.0 * std::pow(1.105, dice.whole(0, 2));
                on = !on;
            }
            return on ? 0.5 * (turn(0, note[0]) + turn(1, note[1])) : 0.0;
        }
        case shiftKeyed:
            if (isNew(x, 1.0 / 300.0))
                on = dice.chance(0.5);
            return turn(0, on ? 1200.0 : 2200.0);
        case noiseInBursts:
            return std::fmod(x, 0.2 + depth) < 0.1 + 0.5 * depth ? 0.3 * dice.noise() : 0.0;
        default:
            return chords(kind, x, since);
        }
    }
    double chords(Kind kind, double x, double since)
    {
        double y = 0.0;
        if (kind == buzz || kind == manyTones) {
            for (int k = 0; k < 31; ++k)
                y += kind == buzz ? turn(k, 50.0 * (k + 1)) / (k + 1) : turn(k, 100.0 * std::pow(2.0, k / 5.0)) / 31.0;
            return y * std::min(1.0, x / 0.01);
        }
        if (isNew(x, kind == sung ? 0.8 : beat_s))
            chord(kind == sung ? 180.0 : 110.0, kind == sung ? 1.0 : 2.0);
        const int voices = kind == sung ? 1 : 4;
        for (int k = 0; k < voices; ++k) {
            const double vibrato =
                kind == sung || kind == strings ? 1.0 + 0.007 * std::sin(tau * (5.0 + 0.2 * k) * x) : 1.0;
            turn(k, note[k] * vibrato);
            y += 0.25 * saw(phase[k]);
        }
        if (kind == strings)
            return 0.4 * hall(y * std::min(1.0, since / 0.1));
        if (kind == distorted)
            return std::tanh(12.0 * y * std::exp(-since / 1.5));
        if (kind == kickedPad)
            return y * std::min(1.0, 0.15 + std::fmod(x, 0.5) / 0.25) +
                   0.8 * std::exp(-std::fmod(x, 0.5) / 0.05) * turn(9, 55.0);
        return kind == sung ? 4.0 * y : y;
    }
};

} // namespace

int otherSoundKinds()
{
    return kinds;
}
const char* otherSoundName(int kind)
{
    return names[kind];
}
bool isPromisedOfOthers(int kind)
{
    return kind <= kickedPad;
}

Sound otherSound(int kind, std::uint64_t seed)
{
    Dice dice(seed * 128 + 77 + static_cast<std::uint64_t>(kind));
    constexpr double rates[] = {48000.0, 44100.0, 96000.0, 8000.0};
    Sound s{dice.one(rates), 16 << dice.whole(0, 9), {}};
    s.samples.resize(static_cast<std::size_t>(s.rate_Hz * seconds));
    Player player(dice, s.rate_Hz);
    Filter vowel[2] = {Filter::resonance(dice.spread(300.0, 800.0), 90.0, s.rate_Hz),
                       Filter::resonance(dice.spread(900.0, 2500.0), 130.0, s.rate_Hz)};
    float largest = 1e-9f;
    for (std::size_t i = 0; i < s.samples.size(); ++i) {
        const double t = static_cast<double>(i) / s.rate_Hz, x = t - player.start_s;
        double y = x > 0.0 && t < player.off_s ? player.tone(static_cast<Kind>(kind), x) : 0.0;
        if (kind == sung)
            y = vowel[0](y) + 0.6 * vowel[1](y);
        s.samples[i] = static_cast<float>(y);
        largest = std::max(largest, std::abs(s.samples[i]));
    }
    const double loud = amplitude(dice.between(-24.0, kind == pistonphone || kind == looseCalibrator ? -3.0 : 0.0));
    const double floor = amplitude(dice.between(-90.0, -60.0));
    for (float& y : s.samples)
        y = static_cast<float>(std::clamp(loud * static_cast<double>(y / largest) + floor * dice.noise(), -1.0, 1.0));
    return s;
}

} // namespace couplet::tests
