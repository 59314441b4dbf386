// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Dispatch.h"
#include "Command/TakeMaking.h"
#include "Library/Folder.h"
#include "Library/Json.h"
#include "Library/Scratch.h"
#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <numbers>

// The takes of Tests/Takes, and takes of its own, each wrong in one way.

using namespace couplet;
using namespace couplet::tests;

namespace {

const std::string takes = std::string(COUPLET_TESTS_DIR) + "/Takes/";
constexpr double trueOffset_dB = 121.97, near_dB = 0.005;

struct Bench
{
    Scratch scratch;

    Outcome<Answer> run(std::vector<std::string> words) const
    {
        words.insert(words.begin(), "reference");
        words.insert(words.end(), {"--coupler", "bench", "--library", scratch.path.string()});
        return runCommand(words);
    }
    Outcome<Answer> take(std::vector<std::string> words) const
    {
        words.insert(words.end(),
                     {"--level", "114.02dB", "--level-uncertainty", "0.15dB", "--class", "1", "--correction", "1.36dB",
                      "--correction-uncertainty", "0.45dB", "--correction-includes-calibrator"});
        return run(words);
    }
    Answer answer(const Outcome<Answer>& outcome) const
    {
        INFO((outcome ? std::string() : outcome.fault().sentence));
        REQUIRE(outcome);
        return *outcome;
    }
    // A take of our own: `sample` as a function of time.
    std::string file(const std::string& name, double seconds, const std::function<double(double)>& sample) const
    {
        std::string samples;
        for (int i = 0; i < static_cast<int>(seconds * 48000.0); ++i) {
            const double x = sample(i / 48000.0) * 8388607.0;
            samples += little(static_cast<std::uint32_t>(static_cast<std::int32_t>(std::lround(x))), 3);
        }
        WavOptions options;
        options.bits = 24;
        std::filesystem::create_directories(scratch.path);
        const auto path = scratch.path / name;
        writeContent(path, wavOf(options, samples));
        return path.string();
    }
};

double sine(double frequency_Hz, double t)
{
    return std::sin(2.0 * std::numbers::pi * frequency_Hz * t);
}
const double amplitude = ratioFrom_dB(-9.31);

std::string refusalOf(const Outcome<Answer>& outcome)
{
    return outcome ? "no fault" : outcome.fault().sentence;
}

const JsonValue* field(const JsonValue& value, const std::string& name)
{
    for (const auto& [key, content] : *value.as<JsonObject>())
        if (key == name)
            return &content;
    return nullptr;
}
JsonValue json(const Answer& answer)
{
    const auto value = parsedJson(answer.text, "the answer");
    REQUIRE(value);
    return *value;
}
double number(const JsonValue& value, const std::string& name)
{
    INFO(name);
    const auto* found = field(value, name);
    REQUIRE(found);
    REQUIRE(found->as<double>());
    return *found->as<double>();
}

} // namespace

TEST_CASE("takes that are no calibrator's are refused with status 1, each with its reason")
{
    const Bench bench;
    const struct
    {
        std::string take, reason;
    } wrong[] = {
        {takes + "calibrator-loose.wav", "the level moves evenly by +0.056 dB/s"},
        {takes + "silence.wav", "is the mains at 50 Hz, not a tone"},
        {takes + "earphone-clipped.wav", "samples are clipped"},
        {bench.file("frequency.wav", 8.0, [](double t) { return amplitude * sine(1010.0, t); }),
         "the frequency is 1010.0 Hz, 1.0 % off"},
        {bench.file("distortion.wav", 8.0,
                    [](double t) { return amplitude * (sine(1000.0, t) + 0.05 * sine(2000.0, t)); }),
         "distortion and noise come to 5.0 %"},
        {bench.file("hum.wav", 8.0, [](double t) { return amplitude * (sine(1000.0, t) + 0.1 * sine(50.0, t)); }),
         "hum is only 20.0 dB below the tone"},
        {bench.file("short.wav", 2.0, [](double t) { return amplitude * sine(1000.0, t); }),
         "keep the calibrator still until 5 s have passed"},
    };
    for (const auto& each : wrong) {
        CAPTURE(each.take);
        const auto answer = bench.answer(bench.take({each.take, "--keep"}));
        CHECK(answer.status == 1);
        CHECK_THAT(answer.text, Catch::Contains(each.reason) && Catch::Contains("not kept"));
        CHECK_FALSE(Folder(bench.scratch.path).holdsCoupler("bench"));
    }
    const auto good = bench.file("good.wav", 8.0, [](double t) { return amplitude * sine(1000.0, t); });
    CHECK(bench.answer(bench.take({good})).status == 0); // the same but for what was wrong
}

TEST_CASE("a knocked take, cut anywhere, gives the true offset or none")
{
    const Bench bench;
    const auto whole = contentOfFile(takes + "calibrator-knocked.wav");
    const std::size_t header = 44, frame = 3; // 24 bit; the file says how many channels
    const auto channels = static_cast<std::size_t>(static_cast<unsigned char>(whole[22]));
    const std::size_t frames = (whole.size() - header) / (frame * channels);
    int used = 0, refused = 0;
    for (double from = 0.0; from < 0.7; from += 0.1) {
        WavOptions options;
        options.bits = 24;
        options.channels = static_cast<std::uint32_t>(channels);
        const auto first = static_cast<std::size_t>(from * static_cast<double>(frames)) * frame * channels;
        for (const double share : {0.3, 0.65, 1.0}) {
            const auto last = static_cast<std::size_t>(share * static_cast<double>(frames)) * frame * channels;
            if (last <= first)
                continue;
            const auto path = bench.scratch.path / "part.wav";
            std::filesystem::create_directories(bench.scratch.path);
            writeContent(path, wavOf(options, whole.substr(header + first, last - first)));
            const auto answer = bench.answer(bench.take({path.string(), "--json"}));
            CAPTURE(from, share);
            ++(answer.status == 0 ? used : refused);
            if (answer.status == 0)
                CHECK(number(json(answer), "offset_db") == Approx(trueOffset_dB).margin(near_dB).epsilon(0.0));
        }
    }
    CHECK(used > 0);
    CHECK(refused > 0);
}

TEST_CASE("several takes are seatings, and their scatter stands in the budget")
{
    const Bench bench;
    const auto seating = [&](const char* name, double dB) {
        return bench.file(name, 6.0, [=](double t) { return amplitude * ratioFrom_dB(dB) * sine(1000.0, t); });
    };
    const auto answer =
        bench.answer(bench.take({seating("a.wav", 0.06), seating("b.wav", -0.02), seating("c.wav", -0.04), "--json"}));
    CHECK(answer.status == 0);
    const auto r = json(answer);
    CHECK(number(r, "offset_db") == Approx(trueOffset_dB).margin(0.001));
    CHECK(field(r, "seatings_dbfs")->as<JsonList>()->size() == 3);
    CHECK_THAT(answer.text, Catch::Contains("scatter of 3 seatings"));
    CHECK(bench.answer(bench.take({seating("a.wav", 0.06), takes + "silence.wav"})).status == 1);
}

TEST_CASE("a take that is given twice, by whatever name, is not two seatings")
{
    const Bench bench;
    const auto take = takes + "calibrator.wav";
    CHECK_THAT(refusalOf(bench.take({take, take})), Catch::Contains("is the same take as"));
    CHECK_THAT(refusalOf(bench.take({take, takes + "../Takes/calibrator.wav"})), Catch::Contains("leave one out"));
}

TEST_CASE("the history is shown, exported and changed, and nothing is ever lost from it")
{
    const Bench bench;
    const std::string take = takes + "calibrator.wav";
    CHECK_THAT(refusalOf(bench.run({"--history"})), Catch::Contains("bench"));
    for (int n = 0; n < 2; ++n)
        CHECK(bench.answer(bench.take({take, "--keep"})).status == 0);
    const Folder folder(bench.scratch.path);
    const auto newest = folder.coupler("bench")->references.back().takenAt;

    const auto text = bench.answer(bench.run({"--history"})).text;
    CHECK_THAT(text, Catch::Contains("2 references") && Catch::Contains("in force") && Catch::Contains("due in"));
    const auto history = json(bench.answer(bench.run({"--history", "--json"})));
    CHECK(number(history, "counted") == 2.0);
    CHECK(number(history, "mean_db") == Approx(trueOffset_dB).margin(near_dB));
    CHECK(field(history, "limits_db")->as<std::monostate>());

    CHECK_THAT(refusalOf(bench.run({"--set-aside", newest})), Catch::Contains("--reason"));
    const auto aside = bench.answer(bench.run({"--set-aside", newest, "--reason", "=gain, \"moved\""}));
    CHECK_THAT(aside.text, Catch::Contains("set aside: =gain"));
    CHECK(folder.coupler("bench")->references.size() == 2);
    const auto csv = bench.answer(bench.run({"--history", "--csv"})).text;
    CHECK_THAT(csv, Catch::StartsWith("taken_at,offset_db,") && Catch::Contains("\"'=gain, \"\"moved\"\"\""));
    CHECK(std::count(csv.begin(), csv.end(), '\n') == 3);
    CHECK(bench.answer(bench.run({"--put-back", newest})).status == 0);
    CHECK_THAT(refusalOf(bench.run({"--put-back", newest})), Catch::Contains("was not set aside"));
    CHECK_THAT(refusalOf(bench.run({"--put-back", "2020-01-01T00:00:00Z"})), Catch::Contains("no reference of"));
}

TEST_CASE("a quick check tells what moved, and stores nothing")
{
    const Bench bench;
    const auto louder = bench.file("louder.wav", 5.0, [](double t) { return 2.0 * amplitude * sine(1000.0, t); });
    const std::vector<std::string> calibrator{"--level", "114.02dB", "--class", "1", "--check"};
    const auto check = [&](const std::string& take) {
        auto words = calibrator;
        words.insert(words.begin(), take);
        return bench.run(words);
    };
    CHECK_FALSE(check(louder)); // there is no such coupler yet
    CHECK(bench.answer(bench.take({takes + "calibrator.wav", "--keep"})).status == 0);
    const auto before = contentOfFile(onlyFile(bench.scratch.path, ".json"));
    const auto holds = bench.answer(check(takes + "calibrator.wav"));
    CHECK(holds.status == 0);
    CHECK_THAT(holds.text, Catch::Contains("holds: "));
    const auto moved = bench.answer(check(louder));
    CHECK(moved.status == 1);
    CHECK_THAT(moved.text, Catch::Contains("moved by \u22126.02 dB") && Catch::Contains("likely: the input's gain"));
    const auto silent = bench.answer(check(takes + "silence.wav"));
    CHECK(silent.status == 1);
    CHECK_THAT(silent.text, Catch::Contains("cannot be told"));
    CHECK(contentOfFile(onlyFile(bench.scratch.path, ".json")) == before);
    CHECK_FALSE(bench.take({takes + "calibrator.wav", "--check", "--keep"}));
}

TEST_CASE("judged terms are set by option, and kept with the coupler")
{
    const Bench bench;
    const auto answer = bench.answer(
        bench.take({takes + "calibrator.wav", "--seating-uncertainty", "0.06dB", "--drift-uncertainty", "0dB",
                    "--linearity-uncertainty", "0.4dB", "--response-uncertainty", "0.2dB", "--keep"}));
    CHECK_THAT(answer.text, Catch::Contains("set by you"));
    const auto coupler = Folder(bench.scratch.path).coupler("bench");
    REQUIRE(coupler);
    CHECK(*coupler->judged.seating_dB == Approx(0.03));
    CHECK(*coupler->judged.drift_dB == 0.0);
    CHECK(*coupler->judged.linearity_dB == Approx(0.2));
    CHECK(*coupler->judged.response_dB == Approx(0.1));
    CHECK_THAT(refusalOf(bench.take({takes + "calibrator.wav", "--insertion-uncertainty", "0.2dB"})),
               Catch::Contains("--keep"));
    CHECK_FALSE(bench.take({takes + "calibrator.wav", "--seating-uncertainty", "-0.06dB"}));
}

TEST_CASE("a second level gives the step and the linearity term")
{
    const Bench bench;
    auto calibrator = Calibrator{};
    calibrator.name = "two levels";
    calibrator.calibratorClass = 1;
    calibrator.tones = {{Hertz(1000.0), 94.03, 0.15}, {Hertz(1000.0), 114.02, 0.15}};
    REQUIRE(Folder(bench.scratch.path).save(calibrator));
    const auto lower =
        bench.file("lower.wav", 6.0, [](double t) { return ratioFrom_dB(-19.98) * amplitude * sine(1000.0, t); });
    const std::vector<std::string> words{takes + "calibrator.wav", "--calibrator", "two levels",    "--level", "114dB",
                                         "--correction",           "1.36dB",       "--second-level"};
    auto right = words;
    right.push_back(lower);
    const auto answer = bench.answer(bench.run(right));
    CHECK(answer.status == 0);
    CHECK_THAT(answer.text, Catch::Contains("step to 94.03 dB, 19.99") && Catch::Contains("19.98 dB"));
    auto wrong = words;
    wrong.push_back(takes + "calibrator.wav");
    CHECK_THAT(refusalOf(bench.run(wrong)), Catch::Contains("switch the calibrator to its other level"));
}

TEST_CASE("a level beyond every scale is told so, and not that its unit is missing")
{
    CHECK(refusalOf(Bench().run({takes + "calibrator.wav", "--keep", "--level", "1140.2dB"})) ==
          "--level: '1140.2dB' is out of range: at most 1000 dB is taken; write for example 1.36dB");
}

TEST_CASE("options that belong to another use of the verb are refused")
{
    const Bench bench;
    CHECK_THAT(refusalOf(bench.run({"--history", "--keep"})), Catch::Contains("--keep has no part in --history"));
    CHECK_THAT(refusalOf(bench.run({"a.wav", "--history"})), Catch::Contains("takes no TAKE"));
    CHECK_THAT(refusalOf(bench.run({"--csv"})), Catch::Contains("--csv needs --history"));
    CHECK_THAT(refusalOf(bench.run({"--history", "--csv", "--json"})), Catch::Contains("exclude"));
    CHECK_THAT(refusalOf(bench.run({"--reason", "x"})), Catch::Contains("--reason needs --set-aside"));
    CHECK_THAT(refusalOf(bench.run({})), Catch::Contains("reference needs TAKE"));
}
