// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/AudioHalf.h"
#include "Plugin/SampleFeed.h"

#include <catch2/catch.hpp>

#include <numeric>
#include <thread>

using namespace couplet;

namespace {

std::vector<float> numbered(std::size_t first, std::size_t count)
{
    std::vector<float> samples(count);
    std::iota(samples.begin(), samples.end(), static_cast<float>(first));
    return samples;
}

void write(SampleFeed& feed, const std::vector<float>& samples)
{
    feed.write(samples.data(), static_cast<int>(samples.size()));
}

std::vector<float> taken(SampleFeed& feed, std::size_t most)
{
    std::vector<float> all;
    feed.take(most, [&](std::span<const float> some) { all.insert(all.end(), some.begin(), some.end()); });
    return all;
}

} // namespace

TEST_CASE("a sample feed holds two seconds at least, and takes nothing while nobody wants it")
{
    for (const double rate : {8000.0, 44100.0, 384000.0})
        CHECK(static_cast<double>(SampleFeed(rate).capacity()) >= 2.0 * rate);
    SampleFeed feed(8000.0);
    write(feed, numbered(0, 100));
    CHECK(feed.heard() == 0);
    CHECK_FALSE(feed.endBreak());
}

TEST_CASE("samples come out of a feed as they went in, round its end too")
{
    SampleFeed feed(8000.0);
    feed.want(true);
    write(feed, numbered(0, 10)); // the first one wanted follows nothing
    CHECK(taken(feed, 100).empty());
    CHECK(feed.endBreak());
    const std::size_t part = feed.capacity() / 3 + 1;
    for (std::size_t i = 0; i < 10; ++i) {
        write(feed, numbered(i * part, part));
        CHECK(feed.take(5, [&](std::span<const float> some) { CHECK(some[0] == static_cast<float>(i * part)); }));
        CHECK(taken(feed, part) == numbered(i * part + 5, part - 5));
    }
    CHECK(feed.gaps() == 0);
}

TEST_CASE("a full feed is a gap, counted once, and nothing comes before the worker has seen it")
{
    SampleFeed feed(8000.0);
    feed.want(true);
    write(feed, numbered(0, 1));
    feed.endBreak();
    write(feed, numbered(0, feed.capacity()));
    write(feed, numbered(0, 1));
    write(feed, numbered(0, 1));
    CHECK(feed.gaps() == 1);
    CHECK(feed.endBreak());
    CHECK_FALSE(feed.endBreak());
    CHECK(taken(feed, feed.capacity()).empty());
    write(feed, numbered(7, 3));
    CHECK(taken(feed, 10) == numbered(7, 3));
    write(feed, numbered(0, feed.capacity() + 1)); // a block larger than all
    CHECK(feed.gaps() == 2);
}

TEST_CASE("what is wanted anew, after nobody did, is not joined to what was before")
{
    SampleFeed feed(8000.0);
    feed.want(true);
    write(feed, numbered(0, 1));
    feed.endBreak();
    write(feed, numbered(0, 50));
    feed.want(false);
    write(feed, numbered(50, 50));
    feed.want(true);
    write(feed, numbered(100, 50));
    CHECK(feed.endBreak());
    write(feed, numbered(150, 50));
    CHECK(taken(feed, 100) == numbered(150, 50));
}

TEST_CASE("another channel or source breaks the feed, and every preparation makes another")
{
    AudioHalf audio;
    CHECK(audio.sampleFeed() == nullptr);
    audio.prepare(48000.0);
    const auto feed = audio.sampleFeed();
    REQUIRE(feed != nullptr);
    feed->want(true);
    const auto samples = numbered(0, 480);
    const float* channels[] = {samples.data(), samples.data()};
    AudioSettings settings;
    audio.process(channels, 2, 480, settings);
    CHECK(feed->endBreak());
    audio.process(channels, 2, 480, settings);
    CHECK_FALSE(feed->endBreak());
    settings.microphone = 2;
    audio.process(channels, 2, 480, settings);
    CHECK(feed->endBreak());
    settings.simulated = OnCoupler{OnCoupler::What::calibrator};
    audio.process(channels, 2, 480, settings);
    CHECK(feed->endBreak());
    settings.simulated = OnCoupler{}; // something else on the same bench
    audio.process(channels, 2, 480, settings);
    CHECK_FALSE(feed->endBreak());
    CHECK(taken(*feed, 480).size() == 480);
    audio.prepare(96000.0);
    CHECK(audio.sampleFeed() != feed);
    CHECK(audio.sampleFeed()->sampleRate_Hz() == 96000.0);
    audio.prepare(4000.0);
    CHECK(audio.sampleFeed() == nullptr);
}

TEST_CASE("between two threads a feed loses nothing unseen and tears nothing")
{
    constexpr std::size_t count = 4000000; // whole numbers that a float holds
    SampleFeed feed(8000.0);
    feed.want(true);
    write(feed, numbered(0, 64)); // the first samples that are wanted begin a stream, which the worker must have seen
    REQUIRE(feed.endBreak());
    std::atomic<bool> ended{false};
    std::thread audio([&] {
        for (std::size_t i = 64; i < count; i += 64) {
            write(feed, numbered(i, 64));
            if (i % 4096 == 0)
                std::this_thread::yield();
        }
        ended = true;
    });
    bool whole = true;
    std::size_t heard = 0;
    float next = -1.0f; // not known behind a break
    for (bool last = false; !last;) {
        last = ended;
        if (feed.endBreak())
            next = -1.0f;
        while (feed.take(1000, [&](std::span<const float> some) {
            for (const float x : some) {
                whole = whole && (next < 0.0f || x == next);
                next = x + 1.0f;
            }
            heard += some.size();
        })) {
        }
    }
    audio.join();
    CHECK(whole);
    CHECK(heard > 0);
    CHECK((heard >= count - 64) == (feed.gaps() == 0));
}
