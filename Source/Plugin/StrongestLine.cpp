// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/StrongestLine.h"

#include "Signal/Sizes.h"
#include "Signal/Sound.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace couplet {
namespace {

// A Hann window spreads a line over three bins, over five when it lies between two.
constexpr std::size_t neighbours = 2;
constexpr std::size_t lowest = 2; // a constant fills bins 0 and 1

// One sample may be a peak that just reaches full scale; three of one sign, as a take's clipping is counted, no clipped
// line has above a sixth of the rate.
constexpr std::size_t fewestInRun = 2;

double powerOf(Phasor p)
{
    return p.re * p.re + p.im * p.im;
}

} // namespace

StrongestLine::StrongestLine(std::size_t length)
    : transform(length), window(length), powers(length / 2, 0.0), held(length, 0.0f)
{
    for (std::size_t n = 0; n < length; ++n) {
        window[n] = 0.5 - 0.5 * std::cos(2.0 * pi * static_cast<double>(n) / static_cast<double>(length));
        windowPower += window[n] * window[n];
    }
}

void StrongestLine::begin(std::vector<float>& ring, std::size_t first) noexcept
{
    held.swap(ring);
    oldest = first;
    at = strongest = full = run = 0;
    all = 0.0;
    transform.begin();
    stage = Stage::loading;
}

// Each sample loaded, each butterfly and each bin looked at is a step.
std::size_t StrongestLine::steps() const noexcept
{
    const std::size_t length = window.size();
    const auto passes = static_cast<std::size_t>(std::bit_width(length / 2) - 1);
    return length + length / 4 * passes + length / 2;
}

std::optional<StrongestLine::Line> StrongestLine::work(std::size_t most) noexcept
{
    if (stage == Stage::loading) {
        most -= load(most);
        if (at < window.size())
            return {};
        stage = Stage::transforming;
    }
    if (stage == Stage::transforming) {
        if (!transform.work(most))
            return {};
        stage = Stage::looking; // with the next piece: how much of this one is left is not told
        at = lowest;
        return {};
    }
    if (stage == Stage::looking) {
        look(most);
        if (at < powers.size())
            return {};
        stage = Stage::idle;
        return found();
    }
    return {};
}

std::size_t StrongestLine::load(std::size_t most) noexcept
{
    const std::size_t length = window.size(), end = std::min(length, at + most), begun = at;
    for (; at < end; ++at) {
        const float x = held[(oldest + at) % length];
        transform.load(at, window[at] * static_cast<double>(x));
        run = std::abs(x) >= converterFullScale ? run + 1 : 0;
        if (run >= fewestInRun)
            full += run == fewestInRun ? fewestInRun : 1;
    }
    return at - begun;
}

std::size_t StrongestLine::look(std::size_t most) noexcept
{
    const std::size_t end = std::min(powers.size(), at + most), begun = at;
    for (; at < end; ++at) {
        powers[at] = powerOf(transform.bin(at));
        all += powers[at];
        if (strongest == 0 || powers[at] > powers[strongest])
            strongest = at;
    }
    return at - begun;
}

StrongestLine::Line StrongestLine::found() const noexcept
{
    double power = 0.0;
    const std::size_t last = std::min(strongest + neighbours, powers.size() - 1);
    for (std::size_t k = std::max(strongest, lowest + neighbours) - neighbours; k <= last; ++k)
        power += powers[k];
    // Of a sine of amplitude A, the bins of one side sum up to A^2 length sum(w^2) / 4.
    const double amplitude = std::sqrt(4.0 * power / (static_cast<double>(window.size()) * windowPower));
    return {strongest, amplitude, all > 0.0 ? power / all : 0.0,
            static_cast<double>(full) / static_cast<double>(window.size())};
}

} // namespace couplet
