// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ToneParts.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr double part_s = 0.00333;
constexpr double fewestPeriods = 0.8; // of the tone in a part: with fewer, tone and image are hardly to be parted
constexpr int fewestParts = 5;

// From a part to the next, rad and of the amplitude: a speed that moves by 1.7 % of 1 kHz twenty times a second comes to
// 0.15, a level that moves by 1 dB likewise to 0.05.
constexpr double evenly = 0.25;

// Of how the speed changes from part to part.
constexpr double smoothing = 0.25;

// A hop's power is that of its mean up to this share: 0.0004 dB.
constexpr double leastShare = 1e-4;
constexpr double leastOverNoise = 2.0;

constexpr auto idx(int i)
{
    return static_cast<std::size_t>(i);
}

double squared(Phasor p)
{
    return p.re * p.re + p.im * p.im;
}

double angleOf(Phasor p)
{
    return std::atan2(p.im, p.re);
}

// 1 / sinc^2 of half the angle that a part's phase turns by.
double lostByTurning(double angle)
{
    const double x2 = 0.25 * angle * angle;
    return 1.0 + x2 / 3.0 + x2 * x2 / 15.0;
}

} // namespace

void ToneParts::begin(double omega)
{
    chunk = chunksInPart = ended = 0;
    left = removed = {};
    removedTurn = 0.0;
    jumped = false;
    const double hop = static_cast<double>(perHop) * chunkLength;
    const int wanted = std::min({most, perHop, static_cast<int>(std::lround(hop / rate / part_s)),
                                 static_cast<int>(omega * hop / (2.0 * pi * fewestPeriods))});
    parts = wanted >= fewestParts ? wanted : 0;
    if (parts == 0) {
        now = {};
        return;
    }
    if (omega != w) {
        w = omega;
        step = unitPhasor(-w * chunkLength);
        sineW = std::sin(w);
        cosineW = std::cos(w);
        const Phasor each = unitPhasor(w);
        Phasor p = unitPhasor(0.5 * w);
        for (std::size_t i = 0; i < halfChunk; ++i, p = p * each) {
            cosine[i] = p.re;
            sine[i] = p.im;
        }
    }
    turn = unitPhasor(w * 0.5 * (hop - chunkLength));
}

bool ToneParts::add(const FoldedChunk& x, Phasor tone, double toneOmega)
{
    ++chunk;
    if (parts == 0)
        return false;
    std::array<double, 4> c{}, s{}; // four sums side by side, not one after the other
    for (std::size_t i = 0; i < halfChunk; ++i) {
        c[i % 4] += x.even[i] * cosine[i];
        s[i % 4] += x.odd[i] * sine[i];
    }
    left += turn * Phasor{(c[0] + c[1]) + (c[2] + c[3]), -((s[0] + s[1]) + (s[2] + s[3]))};
    const bool none = tone.re == 0.0 && tone.im == 0.0;
    const double apart = none ? 0.0 : toneOmega - w; // within the chunk as well
    constexpr double spread = (chunkLength * chunkLength - 1.0) / 24.0;
    removed += (1.0 - spread * apart * apart) * (turn * tone);
    removedTurn += apart * chunkLength;
    turn = turn * step;
    ++chunksInPart;
    if (chunk * parts < (ended + 1) * perHop)
        return false;
    endPart();
    return true;
}

void ToneParts::endPart()
{
    const double samples = static_cast<double>(chunksInPart) * chunkLength;
    const double centre = (chunk - 0.5 * (chunksInPart + perHop)) * chunkLength;
    // What is left, d, is heard as z = d + b d*, and its slope d' by way of the Dirichlet kernel's derivative.
    const Phasor z = (2.0 / samples) * left;
    const Phasor turned = unitPhasor(-2.0 * w * centre);
    const double sineL = std::sin(w * samples), cosineL = std::cos(w * samples);
    const Phasor b = (sineL / (sineW * samples)) * turned;
    const double parted = 1.0 / (1.0 - squared(b));
    const Phasor d = parted * (z - b * conjugate(z));
    const double kernelSlope = 0.5 * (samples * cosineL * sineW - sineL * cosineW) / (sineW * sineW);
    const Phasor image = (parted * kernelSlope / (samples * samples)) * (Phasor{0.0, 1.0} * turned);
    const Phasor a = (1.0 / chunksInPart) * removed + d;
    part[idx(ended++)] = {a, image, squared(d), samples, removedTurn};
    follow(a, centre, samples);
    left = removed = {};
    removedTurn = 0.0;
    chunksInPart = 0;
}

void ToneParts::follow(Phasor a, double centre, double samples)
{
    const Phasor before = now.tone;
    const double apart = 0.5 * (now.length + samples);
    now.tone = a * unitPhasor(w * centre);
    const double size = magnitude(now.tone);
    if (now.parts > 0) {
        const double omega = w + angleOf(now.tone * conjugate(before) * unitPhasor(-w * apart)) / apart;
        const double growth = size - now.size;
        if (std::abs(growth) > evenly * size)
            jumped = true;
        if (now.parts > 1) {
            const double quickening = omega - now.omega;
            if (std::abs(quickening) * apart > evenly)
                jumped = true;
            now.quickening += smoothing * (quickening - now.quickening);
        }
        now.lastOmega = now.parts > 1 ? now.omega : omega;
        now.growth = now.parts > 1 ? 0.5 * (now.growth + growth) : growth;
        now.omega = omega;
    }
    else
        now.omega = now.lastOmega = w;
    now.size = size;
    now.length = samples;
    ++now.parts;
}

// Over the next part: its speed was `omega` half a part ago, and `lastOmega` one and a half.
double ToneParts::omegaAhead() const
{
    return 0.5 * (now.omega + now.lastOmega) + 2.0 * now.quickening;
}

Phasor ToneParts::ahead(double samples) const
{
    if (!(now.size > 0.0))
        return now.tone;
    const double omega = omegaAhead();
    const double turned = (omega - 0.5 * now.quickening) * now.length; // to the next part's centre
    const double size = std::sqrt(lostByTurning((omega - w) * now.length)) * (now.size + now.growth);
    return (size / now.size) * (now.tone * unitPhasor(turned - omega * (0.5 * now.length - samples)));
}

ToneParts::Hop ToneParts::end()
{
    Hop hop;
    hop.known = parts > 0 && ended == parts && chunk == perHop;
    if (!hop.known) {
        now = {};
        return hop;
    }
    hop.jumped = jumped;
    takeOutImages();
    double deviation = 0.0;
    Phasor mean, turned;
    for (int i = 0; i < parts; ++i) {
        deviation += part[idx(i)].beside / parts;
        mean += (1.0 / parts) * part[idx(i)].a;
        if (i > 0)
            turned += part[idx(i)].a * conjugate(part[idx(i - 1)].a);
    }
    hop.deviation = deviation;
    const double angle = angleOf(turned);
    hop.omega = w + angle * parts / (static_cast<double>(perHop) * chunkLength);
    // Third differences, the even turning taken out.
    const Phasor on = unitPhasor(angle);
    for (int i = 3; i < parts; ++i) {
        Phasor third = part[idx(i - 3)].a;
        third = on * third - 3.0 * part[idx(i - 2)].a;
        third = on * third + 3.0 * part[idx(i - 1)].a;
        third = on * third - part[idx(i)].a;
        hop.noise += squared(third) / 20.0 / (parts - 3);
    }
    fillPowers(hop);
    hop.excess = hop.power - squared(mean);
    hop.modulated = hop.excess > leastShare * hop.power && hop.excess > leastOverNoise * hop.noise;
    return hop;
}

void ToneParts::takeOutImages()
{
    Phasor before = part[0].a;
    for (int i = 0; i < parts; ++i) {
        Part& here = part[idx(i)];
        const Phasor after = part[idx(std::min(i + 1, parts - 1))].a;
        const double steps = i == 0 || i == parts - 1 ? 1.0 : 0.5;
        const Phasor slope = steps * (after - before) - here.apart * (Phasor{0.0, 1.0} * here.a); // of what was left
        before = here.a;
        here.a = here.a - conjugate(slope) * here.image;
    }
}

void ToneParts::fillPowers(Hop& hop) const
{
    std::array<double, partsOfHop> weights{};
    double all = 0.0;
    for (int i = 0; i < parts; ++i) {
        const Part& here = part[idx(i)];
        const Part& before = part[idx(std::max(i - 1, 0))];
        const Part& after = part[idx(std::min(i + 1, parts - 1))];
        const double steps = std::min(i + 1, parts - 1) - std::max(i - 1, 0);
        const double angle = angleOf(after.a * conjugate(before.a)) / steps;
        const double slope = (magnitude(after.a) - magnitude(before.a)) / steps;
        // A slope's square over a part has a twelfth of it for its mean. What was taken out has none, and turns evenly.
        const double turned = (angle - here.apart) * magnitude(here.a);
        hop.deviation += (slope * slope + turned * turned) / 12.0 / parts;
        const double power = squared(here.a) * lostByTurning(angle) + slope * slope / 12.0 - hop.noise;
        const auto group = idx(i * partsOfHop / parts);
        hop.powers[group] += here.samples * power;
        weights[group] += here.samples;
        hop.power += here.samples * power;
        all += here.samples;
    }
    hop.power /= all;
    for (std::size_t g = 0; g < hop.powers.size(); ++g)
        hop.powers[g] /= weights[g];
}

} // namespace couplet
