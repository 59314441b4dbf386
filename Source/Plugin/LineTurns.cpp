// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LineTurns.h"

#include "Signal/Sizes.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

// Rules of this product: docs/method.md, When a microphone hears itself.
constexpr double leastTurn_rad = 1.0;
constexpr double leastDrift_rad = 1.2; // within six frames
constexpr double glideFollows = 0.15;
constexpr double brokenPower = 0.25; // 6 dB below the usual
constexpr double followsBy = 0.3;    // of what the frequency was off, a frame
constexpr double usualFollows = 0.2;
constexpr int lead =
    4; // frames until the first change of the phase's advance is known; the first one is no whole frame

double wrapped(double angle)
{
    return angle - 2.0 * pi * std::round(angle / (2.0 * pi));
}

} // namespace

void LineTurns::begin(double radPerSample, int frameSamples) noexcept
{
    *this = {};
    step = stepBefore = stepEarlier = radPerSample;
    frame = frameSamples;
}

void LineTurns::add(const float* samples, int count) noexcept
{
    const double c = std::cos(step), s = std::sin(step);
    Phasor z = carrier;
    Phasor all{0.0, 0.0}, up{0.0, 0.0};
    const double slope = 1.0 / frame;
    double weight = (at + 0.5) * slope;
    for (int i = 0; i < count; ++i) {
        const auto x = static_cast<double>(samples[i]);
        const Phasor turnedBack{x * z.re, -x * z.im};
        all += turnedBack;
        up += weight * turnedBack;
        weight += slope;
        const double next = z.re * c - z.im * s;
        z.im = z.re * s + z.im * c;
        z.re = next;
    }
    carrier = z;
    sum += all;
    rising += up;
    at += count;
}

void LineTurns::endFrame() noexcept
{
    // A triangle over two frames: neither the line's own mirror at negative frequencies nor its neighbours leak in.
    const Phasor line = risingBefore + (sum - rising);
    const double power = line.re * line.re + line.im * line.im;
    const double now = std::atan2(line.im, line.re), off = wrapped(now - phase);
    const double turn = wrapped(off - advance + (stepBefore - stepEarlier) * frame);
    ++frames;
    // How far the phase has come from where it would be, had the advance of six frames ago gone on gliding as usual.
    double drift = 0.0, faster = 0.0;
    changes[static_cast<std::size_t>(frames % framesSummed)] = frames > lead ? turn : 0.0;
    for (int k = framesSummed - 1; k >= 0; --k) {
        faster += changes[static_cast<std::size_t>((frames + framesSummed - k) % framesSummed)] - glide;
        drift += faster;
    }
    isTurn = frames > lead && (!(std::abs(turn) < leastTurn_rad) || power < brokenPower * usual ||
                               (frames > framesSummed + lead && std::abs(drift) > leastDrift_rad));
    if (frames > lead && !isTurn)
        glide += std::max(glideFollows, 1.0 / (frames - lead)) * (turn - glide);
    steady = frames > lead && !isTurn ? steady + 1 : 0;
    if (frames <= lead)
        usual = power;
    else if (!isTurn)
        usual += usualFollows * (power - usual);
    stepEarlier = stepBefore;
    stepBefore = step;
    if (frames > lead - 1 && !isTurn)
        step += followsBy * off / frame;
    phase = now;
    advance = off;
    risingBefore = rising;
    sum = rising = {0.0, 0.0};
    at = 0;
    const double size = std::hypot(carrier.re, carrier.im); // rounding must not let it grow
    carrier = {carrier.re / size, carrier.im / size};
}

} // namespace couplet
