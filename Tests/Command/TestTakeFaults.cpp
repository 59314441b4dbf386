// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/TakeFile.h"
#include "Command/TakeMaking.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

#include <filesystem>
#include <sys/stat.h>
#include <unistd.h>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

std::string refusalOf(const fs::path& path)
{
    const auto take = TakeFile::open(path);
    return take ? "no fault" : take.fault().sentence;
}

const std::string second16(2 * 48000, '\x01'); // one second, mono, 16 bits

struct Case
{
    const char* name;
    std::string content;
    std::string sentence; // behind the file's name
};

std::string formatWithTag(std::uint32_t tag)
{
    return wavOf({tag, 1, 48000, 16}, second16);
}

std::string aiffWithRate(const std::string& rate)
{
    AiffOptions options{"", 1, 48000, 16};
    options.rate = rate;
    return aiffOf(options, second16);
}

// A recorder that was cut off: the length still as it was written at the beginning.
std::string wavWithLength(std::uint64_t length, const std::string& samples)
{
    return "RIFF" + little(length, 4) + "WAVE" + wavFormat({}) + "data" + little(length, 4) + samples;
}

std::vector<Case> wavCases()
{
    const auto whole = wavOf({}, second16);
    const char* copyAgain = "copy or record it again";
    return {
        {"empty", "", "it is empty; record it again, or name another file"},
        {"ends in the first chunk's head", whole.substr(0, 10),
         std::string("it ends before its samples begin; ") + copyAgain},
        {"ends in its description", whole.substr(0, 30), std::string("it ends before its samples begin; ") + copyAgain},
        {"ends before its samples", whole.substr(0, 36), std::string("it ends before its samples begin; ") + copyAgain},
        {"header only", wavOf({}, ""), "it holds a header and no samples; record it again"},
        {"less than one frame", wavOf({1, 2, 48000, 16}, "ab"), "it holds a header and no samples; record it again"},
        {"no samples, but another chunk",
         chunk("RIFF", "WAVE" + wavFormat({}) + chunk("data", "") + chunk("LIST", "INFO")),
         "it holds a header and no samples; record it again"},
        {"truncated", whole.substr(0, 44 + second16.size() / 4),
         "it is truncated: its header promises 1.000 s, and the file ends after 0.250 s; copy it again, or save what "
         "is "
         "there as a new file with an audio editor"},
        {"length never written, 0", wavWithLength(0, std::string(96000, '\0')),
         "its recorder was cut off before it wrote the length; 1.000 s of samples are there; open it in an audio "
         "editor "
         "that mends this, and save it again"},
        {"length never written, largest", wavWithLength(0xFFFFFFFF, second16),
         "its recorder was cut off before it wrote the length; 1.000 s of samples are there; open it in an audio "
         "editor "
         "that mends this, and save it again"},
        {"no channels", wavOf({1, 0, 48000, 16}, second16),
         std::string("its header says that it has no channels; ") + copyAgain},
        {"rate too low", wavOf({1, 1, 7999, 16}, second16),
         "its header says a sample rate of 7999 Hz, but 8 kHz to 384 kHz can be read; correct the header or record it "
         "again"},
        {"rate 0", wavOf({1, 1, 0, 16}, second16),
         "its header says a sample rate of 0 Hz, but 8 kHz to 384 kHz can be read; correct the header or record it "
         "again"},
        {"rate too high", wavOf({1, 1, 4000000000, 16}, second16),
         "its header says a sample rate of 4000000000 Hz, but 8 kHz to 384 kHz can be read; correct the header or "
         "record it "
         "again"},
        {"too many bits", wavOf({1, 1, 48000, 40}, second16),
         "its samples have 40 bits, which is not read; convert it to 16, 24 or 32 bits"},
        {"half precision", wavOf({3, 1, 48000, 16}, second16),
         "its samples have 16 bits, which is not read; convert it to 16, 24 or 32 bits"},
        {"A-law", formatWithTag(6), "its samples are A-law, which is not read; convert it to a WAV of 24-bit samples"},
        {"MPEG in WAV", formatWithTag(0x55),
         "its samples are MPEG audio, which is not read; convert it to a WAV of 24-bit samples"},
        {"unknown samples", formatWithTag(0x1234),
         "its samples are format 0x1234, which is not read; convert it to a WAV of 24-bit samples"},
        {"no description", chunk("RIFF", "WAVE" + chunk("data", second16)),
         std::string("it has samples and no 'fmt ' chunk that describes them; ") + copyAgain},
        {"description too short", chunk("RIFF", "WAVE" + chunk("fmt ", "ab") + chunk("data", second16)),
         std::string("its 'fmt ' chunk at byte 12 is too short; ") + copyAgain},
        {"frames that contradict channels and bits",
         chunk("RIFF", "WAVE" +
                           chunk("fmt ", little(1, 2) + little(2, 2) + little(48000, 4) + little(0, 4) + little(6, 2) +
                                             little(16, 2)) +
                           chunk("data", second16)),
         "its header contradicts itself: 2 channels of 16 bits are not 6 bytes; save it again with an audio editor"},
        {"nothing but zeros", std::string(100000, '\0'),
         "it is no audio file that can be read; name a WAV or AIFF file (.wav, .aif, .aiff)"},
        {"zeros where chunks should be", "RIFF" + little(100000, 4) + "WAVE" + std::string(100000, '\0'),
         std::string("it ends before its samples begin; ") + copyAgain},
    };
}

std::vector<Case> otherCases()
{
    const auto whole = aiffOf({"", 1, 48000, 16}, second16);
    const char* copyAgain = "copy or record it again";
    const auto otherKind = [](const std::string& kind) {
        return "it is " + kind + ", and a take is WAV or AIFF; convert it to WAV";
    };
    const auto notAudio = "it is no audio file that can be read; name a WAV or AIFF file (.wav, .aif, .aiff)";
    return {
        {"text", "frequency,level\n1000,94.0\n", notAudio},
        {"one byte", "R", notAudio},
        {"a RIFF of another kind", chunk("RIFF", "AVI " + std::string(100, 'a')), notAudio},
        {"FLAC", "fLaC" + std::string(100, 'a'), otherKind("FLAC")},
        {"Ogg", "OggS" + std::string(100, 'a'), otherKind("Ogg")},
        {"MP3 with a tag", "ID3" + std::string(100, 'a'), otherKind("MP3")},
        {"MP3 without", "\xFF\xFB\x90" + std::string(100, 'a'), otherKind("MP3")},
        {"MPEG-4", std::string(4, '\0') + "ftypM4A " + std::string(100, 'a'), otherKind("MPEG-4")},
        {"CAF", "caff" + std::string(100, 'a'), otherKind("CAF")},
        {"AIFF that ends in its description", whole.substr(0, 30),
         std::string("it ends before its samples begin; ") + copyAgain},
        {"AIFF that ends before its samples", whole.substr(0, 38),
         std::string("it ends before its samples begin; ") + copyAgain},
        {"AIFF, header only", aiffOf({"", 1, 0, 16}, ""), "it holds a header and no samples; record it again"},
        {"AIFF, no samples, but another chunk",
         aiffChunk("FORM", "AIFF" + aiffCommon({}) + aiffChunk("SSND", big(0, 8)) + aiffChunk("ANNO", "words")),
         "it holds a header and no samples; record it again"},
        {"AIFF, header without a chunk of samples", aiffChunk("FORM", "AIFF" + aiffCommon({})),
         "it holds a header and no samples; record it again"},
        {"AIFF, truncated", whole.substr(0, whole.size() - second16.size() / 2),
         "it is truncated: its header promises 1.000 s, and the file ends after 0.500 s; copy it again, or save what "
         "is "
         "there as a new file with an audio editor"},
        {"AIFF, length never written",
         "FORM" + big(0, 4) + "AIFF" + aiffCommon({}) + "SSND" + big(0, 4) + big(0, 8) + std::string(96000, '\0'),
         "its recorder was cut off before it wrote the length; 1.000 s of samples are there; open it in an audio "
         "editor "
         "that mends this, and save it again"},
        {"AIFF with more frames than room", aiffOf({"", 1, 96000, 16}, second16),
         "its header contradicts itself: it promises more samples than its 'SSND' chunk has room for; copy it again, "
         "or "
         "save it again with an audio editor"},
        {"AIFF, no channels", aiffOf({"", 0, 48000, 16}, second16),
         std::string("its header says that it has no channels; ") + copyAgain},
        {"AIFF, rate infinite", aiffWithRate(big(0x7FFF, 2) + big(std::uint64_t{1} << 63, 8)),
         "its header says a sample rate of inf Hz, but 8 kHz to 384 kHz can be read; correct the header or record it "
         "again"},
        {"AIFF, rate negative", aiffWithRate(big(0xC00E, 2) + big(std::uint64_t{48000} << 48, 8)),
         "its header says a sample rate of -48000 Hz, but 8 kHz to 384 kHz can be read; correct the header or record "
         "it again"},
        {"AIFF-C, compressed", aiffOf({"ima4", 1, 48000, 16}, second16),
         "its samples are compressed in a way that is not read; convert it to a WAV of 24-bit samples"},
        {"AIFF, no description", aiffChunk("FORM", "AIFF" + aiffChunk("SSND", big(0, 8) + second16)),
         std::string("it has samples and no 'COMM' chunk that describes them; ") + copyAgain},
    };
}

} // namespace

TEST_CASE("a broken take is refused in one sentence with its mend")
{
    const Scratch scratch;
    auto cases = wavCases();
    for (auto& other : otherCases())
        cases.push_back(std::move(other));
    for (const auto& each : cases) {
        INFO(each.name);
        const auto path = scratch.path / "take.wav";
        writeContent(path, each.content);
        CHECK(refusalOf(path) == path.string() + ": " + each.sentence);
    }
}

TEST_CASE("a take cut at any byte is refused, and none of its samples are read")
{
    const Scratch scratch;
    const auto path = scratch.path / "take";
    const std::string samples(40, '\x01');
    for (const auto& whole : {wavOf({1, 2, 48000, 16}, samples), aiffOf({"", 2, 10, 16}, samples)}) {
        for (std::size_t size = 0; size < whole.size(); ++size) {
            INFO(size);
            writeContent(path, whole.substr(0, size));
            CHECK_FALSE(TakeFile::open(path));
        }
        writeContent(path, whole);
        CHECK(TakeFile::open(path));
    }
}

TEST_CASE("what is no file to read from is named")
{
    const Scratch scratch("a folder");
    writeContent(scratch.path / "calibrator.wav", wavOf({}, second16));
    const auto missing = scratch.path / "calibratr.wav";
    CHECK(refusalOf(missing) == missing.string() + ": there is no such file; near: 'calibrator.wav'");
    const auto elsewhere = scratch.path / "nowhere" / "take.wav";
    CHECK(refusalOf(elsewhere) == elsewhere.string() + ": there is no such file; check its name and folder");
    CHECK(refusalOf(scratch.path) == scratch.path.string() + ": it is a folder; name a WAV or AIFF file");
    CHECK(refusalOf("/dev/null") == "/dev/null: it is no regular file; name a WAV or AIFF file");
    const auto pipe = scratch.path / "pipe";
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    CHECK(refusalOf(pipe) == pipe.string() + ": it is no regular file; name a WAV or AIFF file");
    const auto loop = scratch.path / "loop";
    fs::create_symlink(loop, loop);
    CHECK(refusalOf(loop).starts_with(loop.string() + ": it cannot be opened ("));
    if (::geteuid() != 0) { // the superuser may read everything
        const auto locked = scratch.path / "locked.wav";
        writeContent(locked, wavOf({}, second16));
        fs::permissions(locked, fs::perms::none);
        CHECK(refusalOf(locked) == locked.string() + ": it cannot be opened (Permission denied); give read permission");
    }
}

TEST_CASE("a channel that is not there is named with its option")
{
    const Scratch scratch;
    const auto path = scratch.path / "take.wav";
    writeContent(path, wavOf({}, second16));
    const auto mono = TakeFile::open(path);
    REQUIRE(mono);
    CHECK(mono->checkChannel(1, "channel"));
    CHECK(mono->checkChannel(2, "drive-channel").fault().sentence ==
          path.string() + ": it has 1 channel, and --drive-channel 2 is not there; write 1");
    CHECK_FALSE(mono->checkChannel(0, "channel"));
    CHECK_FALSE(mono->read({2}, [](const float* const*, int) { FAIL("no such channel"); }));
    writeContent(path, wavOf({1, 4, 48000, 16}, second16));
    CHECK(TakeFile::open(path)->checkChannel(5, "channel").fault().sentence ==
          path.string() + ": it has 4 channels, and --channel 5 is not there; write 1 to 4");
}

TEST_CASE("a take that shrinks while it is read is a fault and not silence")
{
    const Scratch scratch;
    const auto path = scratch.path / "take.wav";
    writeContent(path, wavOf({}, second16));
    const auto take = TakeFile::open(path);
    REQUIRE(take);
    fs::resize_file(path, 44 + 2 * TakeFile::largestBlock);
    std::int64_t read = 0;
    const auto done = take->read({1}, [&](const float* const*, int count) { read += count; });
    REQUIRE_FALSE(done);
    CHECK(done.fault().sentence ==
          path.string() + ": it could not be read beyond 0.171 s; check the disk, or copy it again");
    CHECK(read == TakeFile::largestBlock);
}
