// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveTone.h"
#include "Bench/Reading.h"
#include "Bench/StretchFinder.h"
#include "Signal/Analyser.h"
#include "Signal/Stream.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>

using namespace couplet;

namespace {

constexpr double rate_Hz = 48000.0;
constexpr std::ptrdiff_t where = 120100; // 2.5 s

using Take = std::vector<float>;

Take tone(double seconds)
{
    test::Truth truth;
    truth.hum = 1e-4;
    test::Stream stream(truth.withSnr_dB(60.0), 3);
    return stream.seconds(seconds);
}

const Take& withDropOut()
{
    static const Take take = [] {
        auto t = tone(8.0);
        std::fill_n(t.begin() + where, 576, 0.0f);
        return t;
    }();
    return take;
}

Take withLostSamples()
{
    auto t = tone(8.0);
    t.erase(t.begin() + where, t.begin() + where + 517);
    return t;
}

Take withKnock()
{
    auto t = tone(8.0);
    for (int i = 0; i < 480; ++i)
        t[static_cast<std::size_t>(where + i)] +=
            static_cast<float>(0.02 * std::exp(-i / 120.0) * std::sin(2.0 * pi * 300.0 / rate_Hz * i));
    return t;
}

std::vector<std::string> notesOfTake(const Take& take)
{
    Analyser analyser(rate_Hz);
    StretchFinder finder;
    analyser.add(take.data(), nullptr, static_cast<int>(take.size()), [&](const Estimate& e) { finder.add(e); });
    return makeReading(finder.summary(), Setup{}).notes;
}

// What is told live so many seconds into the take.
Reading liveAt(const Take& take, double seconds)
{
    Analyser analyser(rate_Hz);
    LiveTone live;
    analyser.add(take.data(), nullptr, static_cast<int>(seconds * rate_Hz), [&](const Estimate& e) { live.add(e); });
    return makeReading(live.summary(), Setup{});
}

int notesWith(const std::vector<std::string>& notes, const std::string& words)
{
    return static_cast<int>(
        std::count_if(notes.begin(), notes.end(), [&](const auto& n) { return n.find(words) != std::string::npos; }));
}

} // namespace

TEST_CASE("a drop-out is named with its length and time, in a take and live")
{
    CHECK(notesWith(notesOfTake(withDropOut()), "a drop-out of 12 ms at 2.5 s") == 1);
    CHECK(notesWith(liveAt(withDropOut(), 2.8).notes, "a drop-out of 12 ms just now") == 1);
    CHECK(notesWith(liveAt(withDropOut(), 4.6).notes, "a drop-out of 12 ms 2 s ago") == 1);
    CHECK(notesWith(liveAt(withDropOut(), 7.0).notes, "drop-out") == 0);
}

TEST_CASE("several drop-outs are counted in one sentence")
{
    auto take = withDropOut();
    std::fill_n(take.begin() + 200000, 960, 0.0f);
    CHECK(notesWith(notesOfTake(take), "2 drop-outs, the last of 20 ms at 4.2 s") == 1);
}

TEST_CASE("lost samples within a tone are named as its breaking off, and are no drop-out")
{
    const auto notes = notesOfTake(withLostSamples());
    CHECK(notesWith(notes, "the tone broke off at 2.5 s and went on as before") == 1);
    CHECK(notesWith(notes, "drop-out") == 0);
    CHECK(notesWith(liveAt(withLostSamples(), 3.8).notes, "the tone broke off 1 s ago") == 1);
}

TEST_CASE("a knock is named, in a take and live")
{
    CHECK(notesWith(notesOfTake(withKnock()), "a knock or another noise beside the tone at 2.5 s") == 1);
    CHECK(notesWith(liveAt(withKnock(), 3.6).notes, "a knock or another noise beside the tone 1 s ago") == 1);
}

TEST_CASE("within one window and half a second after a drop-out, lost samples or a knock the level is back")
{
    for (const auto& take : {withDropOut(), withLostSamples(), withKnock()}) {
        const Reading reading = liveAt(take, 2.5 + 1.5);
        REQUIRE(reading.tone.level_dBFS);
        CHECK(*reading.tone.level_dBFS == Approx(-20.0).margin(0.001));
    }
}

TEST_CASE("an undisturbed tone, its beginning, its end and a change of level break nothing")
{
    auto take = tone(8.0);
    CHECK(liveAt(take, 1.0).tone.breaks.any() == false);
    CHECK(liveAt(take, 8.0).tone.breaks.any() == false);
    std::fill_n(take.begin(), 48000, 0.0f);
    std::fill(take.begin() + 150000, take.end(), 0.0f);
    for (const double s : {1.6, 3.0, 3.6, 5.0})
        CHECK(liveAt(take, s).tone.breaks.any() == false);
    take = tone(8.0);
    std::for_each(take.begin() + where, take.end(), [](float& x) { x *= 0.5f; });
    CHECK(liveAt(take, 4.0).tone.breaks.any() == false);
}

TEST_CASE("after the levels were reset a break is told as long ago as it is")
{
    Analyser analyser(rate_Hz);
    LiveTone live;
    const Take take = withDropOut();
    const auto play = [&](double from_s, double to_s) {
        analyser.add(take.data() + static_cast<std::ptrdiff_t>(from_s * rate_Hz), nullptr,
                     static_cast<int>((to_s - from_s) * rate_Hz), [&](const Estimate& e) { live.add(e); });
    };
    play(0.0, 5.0);
    analyser.restartLevels();
    play(5.0, 5.2);
    const Reading reading = makeReading(live.summary(), Setup{});
    CHECK(notesWith(reading.notes, "a drop-out of 12 ms 3 s ago") == 1);
    CHECK(reading.tone.duration_s == Approx(5.2).margin(0.051));
}
