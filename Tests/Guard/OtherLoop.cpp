// SPDX-License-Identifier: GPL-3.0-or-later
#include "Dice.h"
#include "Parts.h"
#include "World.h"

#include <fmt/format.h>

namespace couplet::tests {
namespace {

// Radix 2, in place.
void transform(std::vector<std::complex<double>>& x)
{
    const std::size_t n = x.size();
    for (std::size_t i = 1, j = 0; i < n; ++i) {
        std::size_t bit = n >> 1;
        for (; (j & bit) != 0; bit >>= 1)
            j ^= bit;
        j ^= bit;
        if (i < j)
            std::swap(x[i], x[j]);
    }
    for (std::size_t length = 2; length <= n; length *= 2) {
        const auto turn = std::polar(1.0, -tau / static_cast<double>(length));
        for (std::size_t i = 0; i < n; i += length) {
            std::complex<double> w = 1.0;
            for (std::size_t k = 0; k < length / 2; ++k, w *= turn) {
                const auto a = x[i + k], b = w * x[i + k + length / 2];
                x[i + k] = a + b;
                x[i + k + length / 2] = a - b;
            }
        }
    }
}

// Four delays that feed each other (a reverberator of J.-M. Jot's kind), behind two filters.
struct Reverberation
{
    std::vector<Past> lines;
    long lengths[4] = {1, 1, 1, 1};
    double back[4] = {}, smooth[4] = {}, dull = 0.3, dry = 1.0, wet = 0.5;
    Filter high, low;

    Reverberation(Dice& dice, double rate)
    {
        const double longest = dice.spread(0.008, 0.06), reverberation_s = dice.spread(0.08, 0.9);
        for (int k = 0; k < 4; ++k) {
            lengths[k] = std::max(3L, std::lround(longest * dice.between(0.35, 1.0) * rate));
            lines.emplace_back(static_cast<std::size_t>(lengths[k]) + 2);
            back[k] = std::pow(10.0, -3.0 * static_cast<double>(lengths[k]) / rate / reverberation_s);
        }
        dull = dice.between(0.05, 0.7);
        wet = dice.between(0.1, 1.0);
        dry = dice.chance(0.7) ? 1.0 : 0.0;
        high = Filter::highPass(dice.spread(60.0, 800.0), rate);
        low = Filter::lowPass(std::min(0.4 * rate, dice.spread(1500.0, 12000.0)), rate);
    }
    double operator()(double in)
    {
        const double x = low(high(in));
        double out[4], sum = 0.0;
        for (std::size_t k = 0; k < 4; ++k) {
            const double raw = static_cast<double>(lines[k][lines[k].size() - lengths[k]]);
            smooth[k] += (1.0 - dull) * (raw - smooth[k]);
            out[k] = back[k] * smooth[k];
            sum += out[k];
        }
        for (std::size_t k = 0; k < 4; ++k) // Householder's reflection
            lines[k].push(static_cast<float>(x + out[k] - 0.5 * sum));
        return dry * x + wet * (out[0] - out[1] + out[2] - out[3]);
    }
};

// What changes level after level: each follows the envelope of what passes.
struct Follower
{
    double rise = 0.0, fall = 0.0, envelope = 0.0;
    Follower() = default;
    Follower(double rise_s, double fall_s, double rate)
        : rise(1.0 - std::exp(-1.0 / (rise_s * rate))), fall(1.0 - std::exp(-1.0 / (fall_s * rate)))
    {
    }
    double operator()(double x)
    {
        const double a = std::abs(x);
        return envelope += (a > envelope ? rise : fall) * (a - envelope);
    }
};

class OtherLoop final : public Loop
{
public:
    OtherLoop(std::uint64_t seed, const LoopWish& wish) : dice(seed ^ 0x07e4ull << 32), room{dice, rate_Hz}
    {
        constexpr double rates[] = {48000.0, 48000.0, 44100.0, 96000.0, 8000.0};
        rate_Hz = dice.one(rates);
        room = Reverberation(dice, rate_Hz);
        past.assign(2, Past(1 << 17));
        latency = std::max(20.0, dice.spread(0.001, 0.1) * rate_Hz);
        block = 16;
        while (2 * block + 4 <= 0.98 * latency && block < 4096 && dice.chance(0.75))
            block *= 2;
        const int which = dice.whole(0, loopKindCount - 1);
        kind = loopKinds[which];
        const double excess = wish.stable  ? dice.between(-10.0, -1.0)
                              : which == 1 ? dice.between(10.0, 30.0)
                                           : dice.between(wish.leastExcess_dB, 30.0);
        path = GainPath(dice, which, excess);
        scale = 1.0 / largestGain();
        crossed = dice.chance(0.35);
        channel = dice.whole(0, 1);
        makeDevices();
        moving = dice.chance(0.5) ? dice.whole(1, 3) : 0;
        amount = moving == 1   ? dice.sign() * dice.spread(2e-6, 3e-4) // a clock that is faster or slower
                 : moving == 2 ? dice.between(0.1, 1.0) / soundSpeed   // a microphone that moves to and fro
                               : dice.spread(1e-6, 2e-4);              // a resampler that hunts
        offset = dice.chance(0.3) ? dice.between(-0.05, 0.05) : 0.0;
        noise = amplitude(dice.between(-90.0, -50.0));
        if (dice.chance(0.4))
            source = dice.chance(0.5) ? speech(dice, rate_Hz, seconds, dice.between(-40.0, -20.0))
                                      : music(dice, Music::dense, rate_Hz, seconds, dice.between(-45.0, -24.0));
        constexpr const char* movements[] = {"", ", clocks apart", ", microphone moves", ", resampler hunts"};
        details = fmt::format("{:.0f} Hz, block {}, path {:.1f} ms{}, reverberant{}{}{}{}, excess {:.1f} dB", rate_Hz,
                              block, 1e3 * latency / rate_Hz, crossed ? ", channels crossed" : "",
                              hasCompressor ? ", compressor" : "", hasGate ? ", gate" : "",
                              hasControl ? ", gain control" : "", movements[moving], excess);
    }

    void hear(float* left, float* right, int samples) override
    {
        for (int i = 0; i < samples; ++i, ++now) {
            const double t = static_cast<double>(now) / rate_Hz;
            if (now % 16 == 0)
                gain = scale * amplitude(path.at(t));
            const double from = static_cast<double>(now) - latency - shift(t);
            const std::size_t played =
                crossed ? static_cast<std::size_t>(1 - channel) : static_cast<std::size_t>(channel);
            double driven = past[played].between(from);
            if (hasCompressor) {
                const double envelope = compressor(driven);
                if (envelope > threshold)
                    driven *= std::pow(threshold / envelope, 1.0 - 1.0 / ratio);
            }
            double x = gain * room(limited(driven, limit, true)) + noise * dice.noise() + offset;
            if (!source.empty())
                x += static_cast<double>(source[static_cast<std::size_t>(now) % source.size()]);
            if (hasGate) { // closes below its threshold, to 12 or 40 dB less
                const double wanted = gate(x) > gateThreshold ? 1.0 : gateFloor;
                gateGain += (wanted > gateGain ? gateOpens : gateCloses) * (wanted - gateGain);
                x *= gateGain;
            }
            if (hasControl) {
                control *= controlled(x * control) > 0.25 ? controlFalls : controlRises;
                control = std::min(control, mostControl);
                x *= control;
            }
            const auto there = static_cast<float>(limited(x, 1.0, false));
            // Crossed: the other channel is heard from the first one's loudspeaker, at a fixed way.
            const float back = crossed
                                   ? past[static_cast<std::size_t>(channel)][now - static_cast<long>(latency)] * 0.9f
                                   : static_cast<float>(noise * dice.noise());
            left[i] = channel == 0 ? there : back;
            right[i] = channel == 0 ? back : there;
        }
    }
    void play(const float* left, const float* right, int samples) override
    {
        for (int i = 0; i < samples; ++i) {
            past[0].push(left[i]);
            past[1].push(right[i]);
        }
    }

private:
    static constexpr double soundSpeed = 343.0; // m/s, ISO 9613-1

    double shift(double t) const // samples; never so much that what is not yet played were needed
    {
        if (moving == 1)
            return amount > 0.0 ? amount * t * rate_Hz : -amount * (seconds + 1.0 - t) * rate_Hz;
        if (moving == 2)
            return amount * rate_Hz * 0.5 * (1.0 - std::cos(tau * 0.7 * t));
        if (moving == 3)
            return amount * rate_Hz * 0.5 * (1.0 + std::sin(tau * 9.0 * t) * std::sin(tau * 2.3 * t));
        return 0.0;
    }
    void makeDevices()
    {
        limit = dice.chance(0.3) ? 1e3 : amplitude(dice.between(-6.0, 12.0));
        hasCompressor = dice.chance(0.5);
        threshold = amplitude(dice.between(-24.0, -3.0));
        ratio = dice.chance(0.5) ? 100.0 : dice.between(2.0, 8.0);
        compressor = Follower(dice.spread(0.001, 0.02), dice.spread(0.05, 0.5), rate_Hz);
        hasGate = dice.chance(0.4);
        gate = Follower(dice.spread(0.0005, 0.005), dice.spread(0.02, 0.2), rate_Hz);
        gateThreshold = amplitude(dice.between(-60.0, -35.0));
        gateFloor = dice.chance(0.5) ? 0.01 : 0.25;
        gateOpens = 1.0 - std::exp(-1.0 / (dice.spread(0.0005, 0.01) * rate_Hz));
        gateCloses = 1.0 - std::exp(-1.0 / (dice.spread(0.01, 0.1) * rate_Hz));
        hasControl = dice.chance(0.25);
        controlled = Follower(0.005, 0.1, rate_Hz);
        controlRises = std::pow(amplitude(dice.spread(3.0, 30.0)), 1.0 / rate_Hz);
        controlFalls = std::pow(amplitude(-dice.spread(20.0, 200.0)), 1.0 / rate_Hz);
        mostControl = amplitude(dice.between(6.0, 20.0));
    }
    double largestGain() const
    {
        Reverberation copy = room;
        std::vector<std::complex<double>> response(1 << 16);
        for (std::size_t i = 0; i < response.size(); ++i)
            response[i] = copy(i == 0 ? 1.0 : 0.0);
        transform(response);
        double most = 1e-9;
        for (std::size_t i = 0; i < response.size() / 2; ++i)
            most = std::max(most, std::abs(response[i]));
        return most;
    }

    Dice dice;
    Reverberation room;
    std::vector<Past> past;
    GainPath path;
    std::vector<float> source;
    Follower compressor, gate, controlled;
    double latency = 20.0, scale = 1.0, gain = 0.0, noise = 0.0, offset = 0.0, limit = 1.0, threshold = 1.0,
           ratio = 2.0;
    double gateThreshold = 0.0, gateFloor = 0.0, gateGain = 0.0, gateOpens = 0.0, gateCloses = 0.0;
    double control = 1.0, controlRises = 1.0, controlFalls = 1.0, mostControl = 1.0, amount = 0.0;
    bool crossed = false, hasCompressor = false, hasGate = false, hasControl = false;
    int moving = 0, channel = 0;
    long now = 0;
};

} // namespace

std::unique_ptr<Loop> otherLoop(std::uint64_t seed, const LoopWish& wish)
{
    return std::make_unique<OtherLoop>(seed, wish);
}

} // namespace couplet::tests
