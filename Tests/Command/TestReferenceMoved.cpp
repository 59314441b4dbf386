// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Dispatch.h"
#include "Command/TakeMaking.h"
#include "Library/Folder.h"
#include "Library/Json.h"
#include "Library/Scratch.h"
#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

// References that are no calibrator's, corrections that change and levels that are not certified, through the command.

using namespace couplet;
using namespace couplet::tests;

namespace {

struct TonesAndLibrary
{
    Scratch scratch;
    Folder folder{scratch.path / "library"};

    // 1 kHz at this level for six seconds.
    std::string tone(const std::string& name, double level_dBFS, std::uint32_t rate = 48000) const
    {
        const double full = ratioFrom_dB(level_dBFS) * 8388607.0;
        std::string samples;
        for (std::uint32_t i = 0; i < 6 * rate; ++i) {
            const double x = full * std::sin(2.0 * std::numbers::pi * 1000.0 * i / rate);
            samples += little(static_cast<std::uint32_t>(static_cast<std::int32_t>(std::lround(x))), 3);
        }
        WavOptions options;
        options.bits = 24;
        options.rate = rate;
        writeContent(scratch.path / name, wavOf(options, samples));
        return (scratch.path / name).string();
    }
    Outcome<Answer> run(std::vector<std::string> words) const
    {
        words.insert(words.end(), {"--library", folder.path().string()});
        return runCommand(words);
    }
    Answer answer(const std::vector<std::string>& words) const
    {
        const auto outcome = run(words);
        INFO((outcome ? std::string() : outcome.fault().sentence));
        REQUIRE(outcome);
        return *outcome;
    }
    std::string refusal(const std::vector<std::string>& words) const
    {
        const auto outcome = run(words);
        return outcome ? "no fault" : outcome.fault().sentence;
    }
    Answer reference(const std::string& take, std::vector<std::string> more, const char* correction = "1.36dB") const
    {
        more.insert(more.begin(), {"reference", take, "--coupler", "bench", "--level", "114.02dB", "--pressure-law",
                                   "none", "--level-uncertainty", "0.15dB", "--correction", correction,
                                   "--correction-uncertainty", "0.45dB", "--correction-includes-calibrator"});
        return answer(more);
    }
    std::size_t kept() const { return folder.coupler("bench")->references.size(); }
    Answer history(std::vector<std::string> more = {}) const
    {
        more.insert(more.begin(), {"reference", "--history", "--coupler", "bench"});
        return answer(more);
    }
};

} // namespace

TEST_CASE("a take 16 dB from the last reference becomes the reference only by an explicit word, and bears the mark")
{
    const TonesAndLibrary shelf;
    const auto calibrator = shelf.tone("calibrator.wav", -9.31), earphone = shelf.tone("earphone.wav", -25.31);
    CHECK(shelf.reference(calibrator, {"--keep", "--although-moved"}).status == 0); // the first moves from nothing
    CHECK_FALSE(shelf.folder.coupler("bench")->references.back().moved_dB);
    CHECK(shelf.reference(calibrator, {"--keep"}).status == 0);
    for (const bool keep : {false, true}) {
        const auto answer =
            shelf.reference(earphone, keep ? std::vector<std::string>{"--keep"} : std::vector<std::string>{});
        CHECK(answer.status == 1);
        CHECK_THAT(answer.text, Catch::Contains("moved by +16.00 dB"));
        CHECK((answer.text.find("--keep --although-moved") != std::string::npos) == keep);
        CHECK(shelf.kept() == 2);
    }
    CHECK_THAT(shelf.answer({"read", earphone, "--coupler", "bench"}).text, !Catch::Contains("although"));

    const auto kept = shelf.reference(earphone, {"--keep", "--although-moved", "--json"});
    CHECK(kept.status == 0);
    CHECK_THAT(kept.text, Catch::Contains("\"moved_db\": 15.99999"));
    REQUIRE(shelf.kept() == 3);
    CHECK(*shelf.folder.coupler("bench")->references.back().moved_dB == Approx(16.0).margin(0.001).epsilon(0.0));
    const char* mark = "kept although it had moved by +16.00 dB";
    CHECK_THAT(shelf.answer({"read", earphone, "--coupler", "bench", "--keep"}).text, Catch::Contains(mark));
    CHECK_THAT(contentOfFile(shelf.folder.path() / "readings.jsonl"), Catch::Contains("\"moved_db\": 15.99999"));
    CHECK_THAT(shelf.answer({"levels", earphone, "--coupler", "bench"}).text, Catch::Contains(mark));
    CHECK_THAT(shelf.history().text, Catch::Contains("kept although moved by +16.00 dB") &&
                                         Catch::Contains("of 1 that count since the step"));
    CHECK_THAT(shelf.history({"--json"}).text, Catch::Contains("\"moved_db\": 15.99999"));
    CHECK_THAT(shelf.history({"--csv"}).text, Catch::Contains(",moved_db,") && Catch::Contains(",yes,16.00"));
    CHECK_THAT(shelf.answer({"library", "show", "bench"}).text, Catch::Contains("kept although moved by +16.00 dB"));

    CHECK(shelf.reference(earphone, {"--keep"}).status == 0); // the next is compared with the new one
    CHECK_THAT(shelf.answer({"read", earphone, "--coupler", "bench"}).text, !Catch::Contains("although"));
    CHECK(shelf.reference(calibrator, {"--keep"}).status == 1);
    CHECK_THAT(
        shelf.refusal({"reference", calibrator, "--coupler", "bench", "--level", "114.02dB", "--although-moved"}),
        Catch::Contains("--although-moved needs --keep"));
}

TEST_CASE("a changed correction is told of readings, and is no change of the chain")
{
    const TonesAndLibrary shelf;
    const auto calibrator = shelf.tone("calibrator.wav", -9.31);
    CHECK(shelf.reference(calibrator, {"--keep"}).status == 0);
    auto coupler = *shelf.folder.coupler("bench");
    coupler.correction->value_dB = 0.50;
    REQUIRE(shelf.folder.save(coupler));
    const char* changed = "used another correction: it was 1.36 dB and is now 0.50 dB";
    CHECK_THAT(shelf.answer({"read", calibrator, "--coupler", "bench"}).text, Catch::Contains(changed));
    CHECK_THAT(shelf.answer({"levels", calibrator, "--coupler", "bench"}).text, Catch::Contains(changed));
    const auto check = shelf.reference(calibrator, {"--check"}, "0.50dB");
    CHECK(check.status == 0);
    CHECK_THAT(check.text, Catch::Contains("holds: 0.00 dB") && Catch::Contains("moves by +0.86 dB for that alone"));
    const auto next = shelf.reference(calibrator, {"--keep"}, "0.50dB");
    CHECK(next.status == 0);
    CHECK_THAT(next.text, Catch::Contains("for the other correction alone: +0.86 dB"));
    CHECK_THAT(shelf.answer({"read", calibrator, "--coupler", "bench"}).text, !Catch::Contains("another correction"));
    CHECK_THAT(shelf.history().text, Catch::Contains("1 of the references was taken with another correction"));
}

TEST_CASE("the level beside a calibrator of the library is one of its own, or the call is refused")
{
    const TonesAndLibrary shelf;
    const auto take = shelf.tone("calibrator.wav", -9.31);
    Calibrator calibrator;
    calibrator.name = "Lab";
    calibrator.pressureLaw.kind = PressureLaw::Kind::none;
    calibrator.tones = {{Hertz(1000.0), 114.02, 0.15}};
    REQUIRE(shelf.folder.save(calibrator));
    Coupler coupler;
    coupler.name = "bench";
    REQUIRE(shelf.folder.save(coupler));
    const std::vector<std::string> words{"reference", take, "--coupler", "bench", "--calibrator", "Lab", "--level"};
    const auto with = [&](const char* level) {
        auto all = words;
        all.emplace_back(level);
        return all;
    };
    CHECK_THAT(shelf.refusal(with("115.50dB")), Catch::Contains("'Lab' has no 115.50 dB at 1 kHz"));
    CHECK_THAT(shelf.refusal(with("113.90dB")), Catch::Contains("its nearest level is 114.02 dB"));
    CHECK(shelf.answer(with("114.02dB")).status == 0);
    CHECK_THAT(shelf.answer(with("114dB")).text, Catch::Contains("certified as 114.02 dB, which counts"));
}

TEST_CASE("a typed calibrator's pressure law is stated or said not to be")
{
    const TonesAndLibrary shelf;
    const auto take = shelf.tone("calibrator.wav", -9.31);
    const std::vector<std::string> words{"reference", take,      "--coupler", "bench",  "--level",
                                         "114.02dB",  "--class", "1",         "--keep", "--pressure-law"};
    auto stated = words;
    stated.emplace_back("none");
    CHECK_THAT(shelf.answer(stated).text, Catch::Contains("static pressure: regulates itself"));
    auto silent = std::vector<std::string>(words.begin(), words.end() - 1);
    auto answer = shelf.answer(silent);
    CHECK_THAT(answer.text, Catch::Contains("static pressure: law not stated") &&
                                Catch::Contains("the offset holds at 101.325 kPa") && Catch::Contains("±"));
    silent.insert(silent.end(), {"--pressure", "97kPa"});
    answer = shelf.answer(silent);
    CHECK_THAT(answer.text,
               Catch::Contains("a piston source is off by 0.38 dB") && Catch::Contains("offset 123.33   dB SPL"));
    CHECK_THAT(
        shelf.refusal({"reference", take, "--coupler", "bench", "--level", "114.02dB", "--pressure-law", "boyle"}),
        Catch::Contains("--pressure-law"));
}

TEST_CASE("levels say of their offset what a reading says: its U, its age, its rate and its channel")
{
    const TonesAndLibrary shelf;
    const auto calibrator = shelf.tone("calibrator.wav", -9.31), other = shelf.tone("other.wav", -9.31, 44100);
    CHECK(shelf.reference(calibrator, {"--keep"}).status == 0);
    auto coupler = *shelf.folder.coupler("bench");
    auto text = shelf.answer({"levels", calibrator, "--coupler", "bench"}).text;
    CHECK_THAT(text, Catch::Contains("offset 121.97 ±0.47, dB SPL at 0 dBFS") && !Catch::Contains("stale"));
    CHECK_THAT(shelf.answer({"levels", calibrator, "--coupler", "bench", "--json"}).text,
               Catch::Contains("\"offset_expanded_uncertainty_db\": 0.47"));
    coupler.references.back().takenAt = "2026-05-03T12:00:00Z";
    coupler.references.back().channel = 2;
    std::filesystem::remove(onlyFile(shelf.folder.path(), ".json")); // saving joins the histories
    REQUIRE(shelf.folder.save(coupler));
    text = shelf.answer({"levels", other, "--coupler", "bench"}).text;
    CHECK_THAT(text, Catch::Contains("the reference is stale") &&
                         Catch::Contains("at 48000 Hz sampling, this at 44100") &&
                         Catch::Contains("on channel 2, this on channel 1"));
    text = shelf.answer({"levels", other, "--offset", "121.97dB", "--offset-uncertainty", "0.5dB"}).text;
    CHECK_THAT(text, Catch::Contains("offset 121.97 ±0.50"));
    CHECK_THAT(shelf.answer({"levels", other, "--offset", "121.97dB"}).text,
               Catch::Contains("the offset's uncertainty is not stated"));
}
