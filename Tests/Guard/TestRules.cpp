// SPDX-License-Identifier: GPL-3.0-or-later
#include "Parts.h"

#include "Plugin/LoopGuard.h"

#include <catch2/catch.hpp>

#include <cstring>
#include <functional>
#include <limits>
#include <optional>
#include <random>

using namespace couplet;
using namespace couplet::tests;

namespace {

// A loop as plain as can be: a delay, one resonance, a converter that clips. Each channel's input hears one channel's
// output.
struct Wire
{
    double rate_Hz = 48000.0;
    int block = 256;
    double delay_s = 0.012, gain_dB = 6.0, frequency_Hz = 900.0, width_Hz = 60.0, starts_s = 0.2;
    int from = 0, to = 0; // output and input; the other way round as well if they differ
    double constant = 0.0;
};

struct Heard
{
    std::optional<double> muted_s;
    double loud_s = 1e9;                     // when the input first came near -12 dBFS
    double loudest = 0.0, largestStep = 0.0; // at the output
    LoopGuard::Asked asked;
};

Heard run(LoopGuard& guard, const Wire& wire, double seconds = 12.0)
{
    const auto length = static_cast<std::size_t>(wire.block);
    const long delay = std::max<long>(wire.block, std::lround(wire.delay_s * wire.rate_Hz));
    std::vector<Past> past(2, Past(static_cast<std::size_t>(delay) + length + 1));
    std::vector<Filter> filters(2, Filter::resonance(wire.frequency_Hz, wire.width_Hz, wire.rate_Hz));
    std::mt19937 random(1);
    std::normal_distribution<double> noise(0.0, 1e-3);
    std::vector<float> x[2] = {std::vector<float>(length), std::vector<float>(length)};
    Heard heard;
    float before = 0.0f;
    for (long now = 0; static_cast<double>(now) < seconds * wire.rate_Hz;) {
        for (std::size_t i = 0; i < length; ++i, ++now)
            for (int c = 0; c < 2; ++c) {
                const bool on = static_cast<double>(now) > wire.starts_s * wire.rate_Hz;
                const int from = wire.from == wire.to ? c : 1 - c;
                const bool closed = wire.from != wire.to || c == wire.to;
                const auto k = static_cast<std::size_t>(c);
                const double there = filters[k](static_cast<double>(past[static_cast<std::size_t>(from)][now - delay]));
                const double loop = closed && on ? amplitude(wire.gain_dB) * there : 0.0;
                x[k][i] = static_cast<float>(std::clamp(loop + noise(random) + wire.constant, -1.0, 1.0));
            }
        if (heard.loud_s > 1e8 && *std::max_element(x[wire.to].begin(), x[wire.to].end()) > 0.25f)
            heard.loud_s = static_cast<double>(now) / wire.rate_Hz;
        float* both[] = {x[0].data(), x[1].data()};
        guard.process(both, 2, wire.block);
        for (std::size_t i = 0; i < length; ++i) {
            past[0].push(x[0][i]);
            past[1].push(x[1][i]);
            const float y = x[static_cast<std::size_t>(wire.from)][i];
            heard.loudest = std::max(heard.loudest, static_cast<double>(std::abs(y)));
            heard.largestStep = std::max(heard.largestStep, static_cast<double>(std::abs(y - before)));
            before = y;
        }
        if (guard.muted()) {
            heard.muted_s = static_cast<double>(now) / wire.rate_Hz;
            break;
        }
    }
    heard.asked = guard.asked();
    return heard;
}

Heard run(const Wire& wire)
{
    LoopGuard guard;
    guard.prepare(wire.rate_Hz, wire.block);
    return run(guard, wire);
}

using Wave = std::function<double(double t_s)>;

// What the guard makes of a sound that does not care what it does.
struct Passed
{
    LoopGuard::Asked asked;
    bool muted = false;
    double altered_s = 0.0; // but for its sign
    double lastAltered_s = 0.0;
};

Passed pass(LoopGuard& guard, const Wave& wave, double seconds, double rate_Hz = 48000.0, int block = 256)
{
    std::vector<float> x(static_cast<std::size_t>(block)), y;
    Passed passed;
    for (long now = 0; static_cast<double>(now) < seconds * rate_Hz; now += block) {
        for (std::size_t i = 0; i < x.size(); ++i)
            x[i] = static_cast<float>(
                std::clamp(wave((static_cast<double>(now) + static_cast<double>(i)) / rate_Hz), -1.0, 1.0));
        y = x;
        float* one[] = {y.data()};
        guard.process(one, 1, block);
        for (std::size_t i = 0; i < x.size(); ++i)
            if (std::abs(x[i]) != std::abs(y[i])) {
                passed.altered_s += 1.0 / rate_Hz;
                passed.lastAltered_s = (static_cast<double>(now) + static_cast<double>(i)) / rate_Hz;
            }
    }
    passed.asked = guard.asked();
    passed.muted = guard.muted();
    return passed;
}

Passed pass(const Wave& wave, double seconds, double rate_Hz = 48000.0, int block = 256)
{
    LoopGuard guard;
    guard.prepare(rate_Hz, block);
    return pass(guard, wave, seconds, rate_Hz, block);
}

Wave tone(double level_dBFS, double frequency_Hz = 1000.0, double starts_s = 0.2)
{
    return [=](double t) { return t < starts_s ? 0.0 : amplitude(level_dBFS) * std::sin(tau * frequency_Hz * t); };
}

} // namespace

TEST_CASE("a loop is muted at any rate, block size, delay and frequency")
{
    for (const double rate : {8000.0, 11025.0, 44100.0, 48000.0, 96000.0, 192000.0, 384000.0})
        for (const int block : {16, 256, 1024}) {
            CAPTURE(rate, block);
            const auto heard = run({rate, block});
            REQUIRE(heard.muted_s);
            CHECK(*heard.muted_s - heard.loud_s < 0.5 + 6.0 * block / rate);
        }
    for (const int block : {4096, 8192})
        CHECK(run({48000.0, block, 0.0}).muted_s);
    for (const double delay_s : {0.001, 0.004, 0.02, 0.06, 0.1})
        for (const double frequency : {70.0, 240.0, 3100.0, 9000.0}) {
            CAPTURE(delay_s, frequency);
            CHECK(run({48000.0, 16, delay_s, 8.0, frequency}).muted_s);
        }
}

TEST_CASE("a loop is muted on either channel, and across both")
{
    for (const int from : {0, 1})
        for (const int to : {0, 1}) {
            Wire wire;
            wire.from = from;
            wire.to = to;
            CAPTURE(from, to);
            CHECK(run(wire).muted_s);
        }
}

TEST_CASE("a host that keeps three blocks between input and output hides no loop")
{
    CHECK(run({48000.0, 1024, 0.1 + 3.0 * 1024.0 / 48000.0}).muted_s);
    LoopGuard guard;
    guard.prepare(48000.0, 2048);
    CHECK(run(guard, {48000.0, 2048, 0.1 + 3.0 * 2048.0 / 48000.0, 12.0}).muted_s);
}

TEST_CASE("a loop is muted beside a large constant")
{
    Wire wire;
    wire.constant = 0.25;
    CHECK(run(wire).muted_s);
}

TEST_CASE("a tone is asked once by a turn of the polarity while it stands, for minutes too, and never silenced")
{
    for (const double level : {-12.0, -6.0, 0.0, 12.0}) { // the last one is clipped
        const auto passed = pass(tone(level), 240.0, 8000.0);
        CAPTURE(level);
        CHECK(passed.asked.turns == 1);
        CHECK(passed.asked.silences == 0);
        CHECK_FALSE(passed.muted);
        CHECK((passed.altered_s > 0.0 && passed.altered_s < 0.02));
        CHECK(passed.lastAltered_s < 1.0);
    }
}

TEST_CASE("what is below -14 dBFS is never touched, bit for bit, nor is what is loud for less than 50 ms")
{
    for (const double level : {-14.2, -30.0}) {
        const auto passed = pass(tone(level), 3.0);
        CHECK(passed.altered_s == 0.0);
        CHECK(passed.asked.turns == 0);
    }
    const auto knocks =
        pass([](double t) { return std::exp(-std::fmod(t, 0.3) / 0.01) * std::sin(tau * 300.0 * t); }, 5.0);
    CHECK(knocks.asked.turns + knocks.asked.silences == 0);
}

TEST_CASE("a tone that was asked is asked again when it has grown by more than 6 dB, and not when by less")
{
    const auto grown = [](double by_dB) {
        return pass([=](double t) { return amplitude(t < 2.0 ? -13.0 : -13.0 + by_dB) * std::sin(tau * 1000.0 * t); },
                    4.0);
    };
    CHECK(grown(5.0).asked.turns == 1);
    CHECK(grown(8.0).asked.turns == 2);
}

TEST_CASE("a sound that ends by chance in the silence, and comes again, is no loop")
{
    for (const double on_s : {0.08, 0.1, 0.13, 0.17, 0.22, 0.3})
        for (const double off_s : {0.02, 0.05, 0.09, 0.14, 0.2}) {
            CAPTURE(on_s, off_s);
            const auto passed = pass(
                [=](double t) {
                    const double x = std::fmod(t, on_s + off_s);
                    return x < on_s ? 0.5 * std::min({1.0, x / 0.003, (on_s - x) / 0.003}) * std::sin(tau * 700.0 * t)
                                    : 0.0;
                },
                8.0);
            CHECK_FALSE(passed.muted);
        }
}

TEST_CASE("the mute fades within 2 ms and does not click")
{
    Wire wire;
    wire.frequency_Hz = 100.0; // whose own steps are small
    wire.delay_s = 0.01;
    wire.gain_dB = 3.0;
    const auto heard = run(wire);
    REQUIRE(heard.muted_s);
    CHECK(heard.largestStep < 0.05);
}

TEST_CASE("a mute lasts until it is lifted, through a new start of the host too, and the guard then watches anew")
{
    LoopGuard guard;
    guard.prepare(48000.0, 256);
    REQUIRE(run(guard, Wire{}).muted_s);
    guard.prepare(48000.0, 256);
    CHECK(guard.muted());
    CHECK(pass(guard, tone(-30.0), 1.0).altered_s > 0.7); // silent
    CHECK(guard.muted());
    guard.rest();
    CHECK(guard.muted());
    guard.unmute();
    CHECK(pass(guard, tone(-30.0), 1.0).altered_s < 0.01); // it fades in
    CHECK_FALSE(guard.muted());
    CHECK(run(guard, Wire{}).muted_s);
}

TEST_CASE("a guard at rest lifts a mute when told")
{
    LoopGuard guard;
    guard.prepare(48000.0, 256);
    REQUIRE(run(guard, Wire{}).muted_s);
    guard.unmute();
    guard.rest();
    CHECK_FALSE(guard.muted());
}

TEST_CASE("no number passes a mute, and what is no number stops no guard")
{
    constexpr float none = std::numeric_limits<float>::quiet_NaN(), endless = std::numeric_limits<float>::infinity();
    LoopGuard guard;
    guard.prepare(48000.0, 256);
    std::vector<float> x(256, none);
    x[7] = endless;
    float* one[] = {x.data()};
    for (int i = 0; i < 400; ++i) {
        guard.process(one, 1, 256);
        CHECK(std::isnan(x[0])); // as it came
    }
    REQUIRE(run(guard, Wire{}).muted_s);
    for (int i = 0; i < 4; ++i) {
        std::fill(x.begin(), x.end(), none);
        guard.process(one, 1, 256);
    }
    CHECK(std::all_of(x.begin(), x.end(), [](float y) { return y == 0.0f; }));
}

TEST_CASE("the guard watches on at a sample rate that is no number, and takes blocks of nothing")
{
    LoopGuard guard;
    guard.prepare(std::numeric_limits<double>::quiet_NaN(), 256);
    CHECK(run(guard, Wire{}).muted_s);
    LoopGuard unprepared;
    float sample = 0.5f;
    float* one[] = {&sample};
    unprepared.process(one, 1, 1);
    CHECK(sample == 0.5f);
}
