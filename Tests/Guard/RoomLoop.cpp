// SPDX-License-Identifier: GPL-3.0-or-later
#include "Dice.h"
#include "Parts.h"
#include "World.h"

#include <fmt/format.h>

namespace couplet::tests {
namespace {

constexpr double soundSpeed = 343.0; // m/s at 20 degrees; ISO 9613-1

struct Tap
{
    long delay;
    double gain;
};

class RoomLoop final : public Loop
{
public:
    RoomLoop(std::uint64_t seed, const LoopWish& wish) : dice(seed), past(1 << 17), spoken(1 << 17)
    {
        constexpr double rates[] = {48000.0, 48000.0, 48000.0, 44100.0, 96000.0, 16000.0};
        rate_Hz = dice.one(rates);
        makeRoom();
        makeLoudspeaker();
        const int which = dice.whole(0, loopKindCount - 1);
        kind = loopKinds[which];
        const double excess = wish.stable  ? dice.between(-10.0, -1.0)
                              : which == 1 ? dice.between(10.0, 30.0)
                                           : dice.between(wish.leastExcess_dB, 30.0);
        path = GainPath(dice, which, excess);
        const double most = largestGain();
        scale = 1.0 / most;
        speakerLimit = dice.chance(0.3) ? 1e3 : amplitude(dice.between(-8.0, 20.0));
        speakerSoft = dice.chance(0.5);
        inputLimit = dice.chance(0.7) ? 1.0 : dice.between(0.4, 1.0);
        inputSoft = dice.chance(0.3);
        noise = amplitude(dice.between(-95.0, -55.0));
        const double what = dice.unit();
        if (what < 0.3)
            source = speech(dice, rate_Hz, seconds, dice.between(-45.0, -20.0));
        else if (what < 0.5)
            source = music(dice, static_cast<Music>(dice.whole(0, 5)), rate_Hz, seconds, dice.between(-45.0, -22.0));
        else if (what < 0.6)
            tone = amplitude(dice.between(-50.0, -25.0));
        microphone = dice.whole(0, 1);
        details =
            fmt::format("{:.0f} Hz, block {}, path {:.1f} ms, {} images over {:.0f} ms, {} resonances from {:.0f} Hz "
                        "wide, excess {:.1f} dB, loudspeaker limits at {:.2f}, input at {:.2f}",
                        rate_Hz, block, 1e3 * static_cast<double>(taps.front().delay) / rate_Hz, taps.size(),
                        1e3 * static_cast<double>(taps.back().delay - taps.front().delay) / rate_Hz, resonances.size(),
                        narrowest, excess, speakerLimit, inputLimit);
    }

    void hear(float* left, float* right, int samples) override
    {
        for (int i = 0; i < samples; ++i) {
            const double t = static_cast<double>(now) / rate_Hz;
            if (now % 16 == 0)
                gain = scale * amplitude(path.at(t));
            double driven = limited(static_cast<double>(past[now - latency]), speakerLimit, speakerSoft);
            driven = low(high(driven));
            double out = direct * driven;
            for (std::size_t k = 0; k < resonances.size(); ++k)
                out += weights[k] * resonances[k](driven);
            spoken.push(static_cast<float>(out));
            double heard = 0.0;
            for (const Tap& tap : taps)
                heard += tap.gain * static_cast<double>(spoken[now - (tap.delay - latency)]);
            double other = noise * dice.noise() + tone * std::sin(tau * 1000.0 * t);
            if (!source.empty())
                other += static_cast<double>(source[static_cast<std::size_t>(now) % source.size()]);
            const auto x = static_cast<float>(limited(gain * heard + other, inputLimit, inputSoft));
            const auto elsewhere = static_cast<float>(noise * dice.noise());
            left[i] = microphone == 0 ? x : elsewhere;
            right[i] = microphone == 1 ? x : elsewhere;
            ++now;
        }
    }
    void play(const float* left, const float* right, int samples) override
    {
        for (int i = 0; i < samples; ++i)
            past.push(microphone == 0 ? left[i] : right[i]);
    }

private:
    // The image sources of a shoebox (Allen and Berkley, J. Acoust. Soc. Am. 65, 943 (1979)), the strongest of them.
    void makeRoom()
    {
        const double size[3] = {dice.between(2.5, 9.0), dice.between(2.5, 7.0), dice.between(2.2, 3.5)};
        double from[3], to[3];
        for (int k = 0; k < 3; ++k) {
            from[k] = size[k] * dice.between(0.1, 0.9);
            to[k] = size[k] * dice.between(0.1, 0.9);
        }
        if (dice.chance(0.3)) // a microphone close to its loudspeaker, or an earphone on its coupler
            for (int k = 0; k < 3; ++k)
                to[k] = from[k] + dice.between(0.02, 0.2);
        const double wall = dice.between(0.2, 0.92);
        std::vector<Tap> all;
        double first = 1e9;
        for (int a = -2; a <= 2; ++a)
            for (int b = -2; b <= 2; ++b)
                for (int c = -1; c <= 1; ++c) {
                    const int n[3] = {a, b, c};
                    double square = 0.0;
                    for (int k = 0; k < 3; ++k) {
                        const double image =
                            n[k] % 2 == 0 ? n[k] * size[k] + from[k] : n[k] * size[k] + size[k] - from[k];
                        square += (image - to[k]) * (image - to[k]);
                    }
                    const double distance = std::max(0.02, std::sqrt(square));
                    const int bounces = std::abs(a) + std::abs(b) + std::abs(c);
                    const double loss = std::pow(wall, bounces) * (dice.chance(0.3) ? dice.between(0.5, 1.0) : 1.0);
                    first = std::min(first, distance);
                    all.push_back({std::lround(distance / soundSpeed * rate_Hz), loss / distance});
                }
        std::sort(all.begin(), all.end(),
                  [](const Tap& x, const Tap& y) { return std::abs(x.gain) > std::abs(y.gain); });
        all.resize(20);
        std::sort(all.begin(), all.end(), [](const Tap& x, const Tap& y) { return x.delay < y.delay; });
        const auto air = static_cast<long>(all.front().delay);
        const double whole_s = dice.spread(0.001, 0.1);
        latency = std::max({17L, static_cast<long>(whole_s * rate_Hz) - air});
        block = 16;
        while (2 * block <= latency && block < 4096 && dice.chance(0.75))
            block *= 2;
        for (const Tap& tap : all)
            taps.push_back({tap.delay + latency, tap.gain});
    }
    void makeLoudspeaker()
    {
        const double top = 0.42 * rate_Hz;
        high = Filter::highPass(dice.spread(40.0, 400.0), rate_Hz);
        low = Filter::lowPass(std::min(top, dice.spread(2500.0, 16000.0)), rate_Hz);
        const int count = dice.whole(0, 6);
        direct = count > 0 && dice.chance(0.2) ? 0.0 : 1.0;
        for (int k = 0; k < count; ++k) {
            const double width = dice.spread(8.0, 400.0);
            narrowest = narrowest == 0.0 ? width : std::min(narrowest, width);
            frequencies.push_back(dice.spread(110.0, std::min(top, 8000.0)));
            resonances.push_back(Filter::resonance(frequencies.back(), width, rate_Hz));
            weights.push_back(dice.sign() * amplitude(dice.between(-6.0, 14.0)));
        }
    }
    double gainAt(double w) const
    {
        std::complex<double> speaker = direct, room = 0.0;
        for (std::size_t k = 0; k < resonances.size(); ++k)
            speaker += weights[k] * resonances[k].at(w);
        for (const Tap& tap : taps)
            room += tap.gain * std::polar(1.0, -w * static_cast<double>(tap.delay - latency));
        return std::abs(speaker * room * low.at(w) * high.at(w));
    }
    double largestGain() const
    {
        double most = 0.0;
        constexpr int steps = 4000;
        for (int k = 0; k < steps; ++k)
            most = std::max(
                most, gainAt(tau * 40.0 * std::pow(0.45 * rate_Hz / 40.0, static_cast<double>(k) / steps) / rate_Hz));
        for (const double f : frequencies)
            for (int off = -8; off <= 8; ++off)
                most = std::max(most, gainAt(tau * (f + off) / rate_Hz));
        return most;
    }

    Dice dice;
    Past past, spoken;
    std::vector<Tap> taps;
    std::vector<Filter> resonances;
    std::vector<double> weights, frequencies;
    Filter high, low;
    GainPath path;
    std::vector<float> source;
    double direct = 1.0, scale = 1.0, gain = 0.0, speakerLimit = 1.0, inputLimit = 1.0, noise = 0.0, tone = 0.0;
    double narrowest = 0.0;
    bool speakerSoft = false, inputSoft = false;
    long latency = 17, now = 0;
    int microphone = 0;
};

} // namespace

GainPath::GainPath(Dice& dice, int k, double excess)
    : kind(k), excess_dB(excess), start_s(dice.between(0.3, 0.8)), slope(dice.spread(1.5, 40.0)),
      length_s(dice.spread(0.05, 2.0)), from_dB(dice.between(-30.0, -3.0)),
      wander_dB(dice.chance(0.5) ? dice.between(0.0, 1.0) : 0.0), wander_Hz(dice.between(0.2, 3.0))
{
    double level = from_dB;
    for (int step = 0; step < 64; ++step) {
        steps_dB.push_back(level);
        level = std::min(excess_dB, level + dice.between(0.0, 8.0));
    }
}

double GainPath::at(double t) const
{
    const double since = t - start_s;
    double level = since < 0.0 ? -80.0 : excess_dB; // a step, unless it is one of these
    if (kind == 2) {
        const double x = std::clamp(since / length_s, 0.0, 1.0);
        level = from_dB + (excess_dB - from_dB) * x * x * (3.0 - 2.0 * x);
    }
    else if (kind == 3)
        level = std::min(excess_dB, -6.0 + slope * std::max(0.0, since));
    else if (kind == 4)
        level = steps_dB[std::min<std::size_t>(steps_dB.size() - 1, static_cast<std::size_t>(t / 0.25))];
    return level + wander_dB * std::sin(tau * wander_Hz * t);
}

std::unique_ptr<Loop> roomLoop(std::uint64_t seed, const LoopWish& wish)
{
    return std::make_unique<RoomLoop>(seed, wish);
}

} // namespace couplet::tests
