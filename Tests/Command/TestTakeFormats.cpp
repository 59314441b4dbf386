// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/TakeFile.h"
#include "Command/TakeMaking.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

#include <bit>
#include <cmath>
#include <limits>

using namespace couplet;
using namespace couplet::tests;

namespace {

// What the take holds, channel by channel.
std::vector<std::vector<float>> samplesIn(const TakeFile& take, const std::vector<int>& channels)
{
    std::vector<std::vector<float>> all(channels.size());
    const auto done = take.read(channels, [&](const float* const* block, int count) {
        for (std::size_t c = 0; c < channels.size(); ++c)
            all[c].insert(all[c].end(), block[c], block[c] + count);
    });
    REQUIRE(done);
    return all;
}

TakeFile opened(const Scratch& scratch, const std::string& content)
{
    const auto path = scratch.path / "take";
    writeContent(path, content);
    auto take = TakeFile::open(path);
    if (!take)
        FAIL(take.fault().sentence);
    return *std::move(take);
}

// Full scale downward, half upward and the smallest step downward, in each format.
struct Format
{
    const char* name;
    std::string content;
    float smallest;
};

std::uint64_t floatBits(float v)
{
    return std::bit_cast<std::uint32_t>(v);
}
std::uint64_t doubleBits(double v)
{
    return std::bit_cast<std::uint64_t>(v);
}

std::vector<Format> formats()
{
    const auto wav24 = little(0x800000, 3) + little(0x400000, 3) + little(0xFFFFFF, 3);
    const auto extensible = chunk("fmt ", little(0xFFFE, 2) + little(1, 2) + little(48000, 4) + little(144000, 4) +
                                              little(3, 2) + little(24, 2) + little(22, 2) + little(24, 2) +
                                              little(0, 4) + little(1, 2) + std::string(14, '\0'));
    const auto longLengths = "ds64" + little(28, 4) + little(0, 8) + little(wav24.size(), 8) + little(0, 12);
    return {
        {"WAV 8 bits", wavOf({1, 1, 48000, 8}, std::string("\x00\xC0\x7F", 3)), -0x1p-7f},
        {"WAV 16 bits", wavOf({1, 1, 48000, 16}, little(0x8000, 2) + little(0x4000, 2) + little(0xFFFF, 2)), -0x1p-15f},
        {"WAV 24 bits", wavOf({1, 1, 48000, 24}, wav24), -0x1p-23f},
        {"WAV 20 bits in three bytes",
         wavOf({1, 1, 48000, 20}, little(0x800000, 3) + little(0x400000, 3) + little(0xFFFFF0, 3)), -0x1p-19f},
        {"WAV 32 bits", wavOf({1, 1, 48000, 32}, little(0x80000000, 4) + little(0x40000000, 4) + little(0xFFFFFFFF, 4)),
         -0x1p-31f},
        {"WAV single precision",
         wavOf({3, 1, 48000, 32}, little(floatBits(-1), 4) + little(floatBits(0.5f), 4) + little(floatBits(-1e-9f), 4)),
         -1e-9f},
        {"WAV double precision",
         wavOf({3, 1, 48000, 64},
               little(doubleBits(-1), 8) + little(doubleBits(0.5), 8) + little(doubleBits(-0x1p-40), 8)),
         -0x1p-40f},
        {"WAV extensible", chunk("RIFF", "WAVE" + extensible + chunk("data", wav24)), -0x1p-23f},
        {"WAV with other chunks, one of odd length",
         chunk("RIFF", "WAVE" + chunk("bext", "abc") + wavFormat({1, 1, 48000, 24}) + chunk("LIST", "INFO") +
                           chunk("data", wav24) + chunk("iXML", "<a/>")),
         -0x1p-23f},
        {"WAV with its samples in front of their description",
         chunk("RIFF", "WAVE" + chunk("data", wav24) + wavFormat({1, 1, 48000, 24})), -0x1p-23f},
        {"RF64",
         "RF64" + little(0xFFFFFFFF, 4) + "WAVE" + longLengths + wavFormat({1, 1, 48000, 24}) + "data" +
             little(0xFFFFFFFF, 4) + wav24,
         -0x1p-23f},
        {"AIFF 8 bits", aiffOf({"", 1, 3, 8}, std::string("\x80\x40\xFF", 3)), -0x1p-7f},
        {"AIFF 16 bits", aiffOf({"", 1, 3, 16}, big(0x8000, 2) + big(0x4000, 2) + big(0xFFFF, 2)), -0x1p-15f},
        {"AIFF 24 bits", aiffOf({"", 1, 3, 24}, big(0x800000, 3) + big(0x400000, 3) + big(0xFFFFFF, 3)), -0x1p-23f},
        {"AIFF-C little endian", aiffOf({"sowt", 1, 3, 16}, little(0x8000, 2) + little(0x4000, 2) + little(0xFFFF, 2)),
         -0x1p-15f},
        {"AIFF-C single precision",
         aiffOf({"fl32", 1, 3, 32}, big(floatBits(-1), 4) + big(floatBits(0.5f), 4) + big(floatBits(-1e-9f), 4)),
         -1e-9f},
        {"AIFF-C double precision",
         aiffOf({"FL64", 1, 3, 64}, big(doubleBits(-1), 8) + big(doubleBits(0.5), 8) + big(doubleBits(-0x1p-40), 8)),
         -0x1p-40f},
    };
}

} // namespace

TEST_CASE("samples of every format are read to the last bit")
{
    const Scratch scratch;
    for (const auto& format : formats()) {
        INFO(format.name);
        const auto take = opened(scratch, format.content);
        CHECK(take.sampleRate_Hz() == 48000.0);
        CHECK(take.channels() == 1);
        CHECK(take.lengthInSamples() == 3);
        CHECK(samplesIn(take, {1}) == std::vector<std::vector<float>>{{-1.0f, 0.5f, format.smallest}});
    }
}

TEST_CASE("only the channels asked for are handed over, in the order asked, block by block")
{
    const Scratch scratch;
    constexpr int frames = 2 * TakeFile::largestBlock + 5;
    std::string samples;
    for (unsigned i = 0; i < frames; ++i)
        samples += little(i % 1000, 2) + little(2000 + i % 1000, 2) + little(4000 + i % 1000, 2);
    const auto take = opened(scratch, wavOf({1, 3, 96000, 16}, samples));
    CHECK(take.duration_s() == Approx(frames / 96000.0));
    CHECK(take.bits() == 16);
    CHECK_FALSE(take.isFloat());
    const auto all = samplesIn(take, {3, 1});
    REQUIRE(all.size() == 2);
    bool right = all[0].size() == frames && all[1].size() == frames;
    for (std::size_t i = 0; right && i < frames; ++i)
        right = all[0][i] == static_cast<float>(4000 + i % 1000) * 0x1p-15f &&
                all[1][i] == static_cast<float>(i % 1000) * 0x1p-15f;
    CHECK(right);
    CHECK(samplesIn(take, {3, 1}) == all); // a second time
}

TEST_CASE("no block is longer than promised, however many channels a take has")
{
    const Scratch scratch;
    const auto take = opened(scratch, wavOf({1, 600, 8000, 16}, std::string(600 * 2 * 9000, '\x01')));
    std::int64_t read = 0;
    int longest = 0;
    REQUIRE(take.read({600}, [&](const float* const* block, int count) {
        read += count;
        longest = std::max(longest, count);
        CHECK(block[0][count - 1] == static_cast<float>(0x0101) * 0x1p-15f);
    }));
    CHECK(read == 9000);
    CHECK(longest <= TakeFile::largestBlock);
}

TEST_CASE("what is no number in a take of floats is left to the analysis")
{
    const Scratch scratch;
    const auto nan = std::numeric_limits<float>::quiet_NaN();
    const auto infinite = std::numeric_limits<float>::infinity();
    const auto take =
        opened(scratch, wavOf({3, 1, 48000, 32}, little(floatBits(nan), 4) + little(floatBits(infinite), 4)));
    CHECK(take.isFloat());
    const auto samples = samplesIn(take, {1});
    CHECK(std::isnan(samples[0][0]));
    CHECK(std::isinf(samples[0][1]));
}

TEST_CASE("the lowest and the highest rate are read")
{
    const Scratch scratch;
    CHECK(opened(scratch, wavOf({1, 1, 8000, 16}, "ab")).sampleRate_Hz() == 8000.0);
    CHECK(opened(scratch, wavOf({1, 1, 384000, 16}, "ab")).sampleRate_Hz() == 384000.0);
}

TEST_CASE("a take whose last frame is torn, or whose last chunk is, keeps its whole frames")
{
    const Scratch scratch;
    CHECK(opened(scratch, wavOf({1, 2, 48000, 16}, std::string(4 * 10 + 2, 'a'))).lengthInSamples() == 10);
    const auto withTail = wavOf({1, 1, 48000, 16}, std::string(20, 'a')) + "LIST" + little(5000, 4) + "INFO";
    CHECK(opened(scratch, withTail).lengthInSamples() == 10);
}
