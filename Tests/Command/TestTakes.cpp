// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Options.h"
#include "Command/Verb.h"
#include "Library/Json.h"
#include "Metrology/Expanded.h"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <unistd.h>

// Recorded-like takes with their truth: synthetic, made independently of this program (Tests/Takes/truth.json).

using namespace couplet;

namespace {

const std::string takes = std::string(COUPLET_TESTS_DIR) + "/Takes/";

struct Bench // a library of its own, gone afterwards
{
    std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("couplet takes " + std::to_string(::getpid()));
    Bench() { std::filesystem::remove_all(folder); }
    ~Bench() { std::filesystem::remove_all(folder); }

    Answer call(Verb verb, const char* name, std::vector<std::string> line) const
    {
        line.insert(line.end(), {"--library", folder.string(), "--json"});
        const auto arguments = Arguments::from(*verbNamed(name), line);
        REQUIRE(arguments);
        auto answer = verb(*arguments);
        INFO((answer ? std::string() : answer.fault().sentence));
        REQUIRE(answer);
        return *answer;
    }
    Answer reference(const std::string& take, std::vector<std::string> more = {}) const
    {
        std::vector<std::string> line{takes + take, "--coupler",
                                      "bench",      "--level",
                                      "114.02dB",   "--level-uncertainty",
                                      "0.15dB",     "--class",
                                      "1",          "--correction",
                                      "1.36dB",     "--correction-uncertainty",
                                      "0.45dB",     "--correction-includes-calibrator"};
        line.insert(line.end(), more.begin(), more.end());
        return call(runReference, "reference", line);
    }
    Answer read(const std::string& take, std::vector<std::string> more) const
    {
        more.insert(more.begin(), {takes + take, "--coupler", "bench"});
        return call(runRead, "read", more);
    }
};

const std::vector<std::string> ratingOfS{"--rating",           "112.40dB/V", "--rating-frequency", "500Hz",
                                         "--rating-tolerance", "1dB",        "--impedance",        "24ohm",
                                         "--source-impedance", "1ohm"};

std::vector<std::string> with(std::vector<std::string> line, const std::vector<std::string>& more)
{
    line.insert(line.end(), more.begin(), more.end());
    return line;
}

JsonValue json(const std::string& text)
{
    auto value = parsedJson(text, "the answer");
    REQUIRE(value);
    return *value;
}

// A field by its path: "tone.frequency_hz".
JsonValue at(const JsonValue& value, const std::string& path)
{
    const auto dot = path.find('.');
    const auto* object = value.as<JsonObject>();
    REQUIRE(object);
    for (const auto& [name, field] : *object)
        if (name == path.substr(0, dot))
            return dot == std::string::npos ? field : at(field, path.substr(dot + 1));
    FAIL("no field " << path);
    return {};
}
double number(const JsonValue& value, const std::string& path)
{
    const JsonValue field = at(value, path);
    const auto* n = field.as<double>();
    INFO(path);
    REQUIRE(n);
    return *n;
}
std::string text(const JsonValue& value, const std::string& path)
{
    const JsonValue field = at(value, path);
    const auto* t = field.as<std::string>();
    return t ? *t : "null";
}
bool flag(const JsonValue& value, const std::string& path)
{
    const JsonValue field = at(value, path);
    REQUIRE(field.as<bool>());
    return *field.as<bool>();
}
bool isNull(const JsonValue& value, const std::string& path)
{
    return at(value, path).as<std::monostate>() != nullptr;
}
std::string notes(const JsonValue& value)
{
    std::string all;
    const auto list = at(value, "notes");
    REQUIRE(list.as<JsonList>());
    for (const auto& note : *list.as<JsonList>())
        all += *note.as<std::string>() + "\n";
    return all;
}

double truth(const std::string& path)
{
    std::ifstream file(takes + "truth.json");
    return number(json(std::string(std::istreambuf_iterator<char>(file), {})), path);
}

} // namespace

TEST_CASE("the calibrator's take gives the true offset, fit to use")
{
    const Bench bench;
    const Answer answer = bench.reference("calibrator.wav", {"--keep"});
    CHECK(answer.status == 0);
    const auto r = json(answer.text);
    CHECK(number(r, "offset_db") == Approx(truth("offset_db")).margin(0.005).epsilon(0.0));
    CHECK(number(r, "expanded_uncertainty_db") == 0.47);
    CHECK(flag(r, "fit_to_use"));
    CHECK(number(r, "tone.frequency_hz") == Approx(truth("takes.calibrator.frequency_hz")).margin(0.005).epsilon(0.0));
}

TEST_CASE("earphone S on the left agrees with its rating")
{
    const Bench bench;
    (void)bench.reference("calibrator.wav", {"--keep"});
    const auto drive = GENERATE(std::vector<std::string>{"--drive", "123.2mV"},
                                std::vector<std::string>{"--drive-channel", "2", "--drive-full-scale", "2.00V"});
    const Answer answer =
        bench.read("earphone-s-left.wav", with(ratingOfS, with(drive, {"--meter-accuracy", "0.5%", "--side", "left"})));
    CHECK(answer.status == 0);
    const auto r = json(answer.text);
    CHECK(number(r, "tone.level_dbfs") == Approx(truth("takes.earphone-s-left.tone_dbfs")).margin(0.003).epsilon(0.0));
    CHECK(number(r, "tone.frequency_hz") ==
          Approx(truth("takes.earphone-s-left.frequency_hz")).margin(0.005).epsilon(0.0));
    CHECK(number(r, "measured.level_db") == Approx(truth("takes.earphone-s-left.spl_db")).margin(0.008).epsilon(0.0));
    CHECK(number(r, "measured.expanded_uncertainty_db") == 0.53);
    CHECK(number(r, "expected.level_db") == Approx(93.86).margin(0.005).epsilon(0.0));
    CHECK(number(r, "expected.expanded_uncertainty_db") == 1.00);
    // From 1 kHz to 500 Hz the coupler may deviate by 0.5 dB (IEC 60711 Table 2): 1.3418 by four million draws with numpy,
    // printed upward.
    CHECK(number(r, "difference_uncertainty_db") == 1.35);
    CHECK(number(r, "drive_v") == Approx(truth("takes.earphone-s-left.drive_v")).epsilon(1e-4));
    CHECK(text(r, "verdict") == "agrees");
}

TEST_CASE("strong hum and DC do not move the level; hum that does not matter to it is no remark")
{
    const Bench bench;
    (void)bench.reference("calibrator.wav", {"--keep"});
    const Answer answer = bench.read("earphone-s-right-441.wav",
                                     {"--rating", "112.40dB/V", "--rating-frequency", "500Hz", "--rating-tolerance",
                                      "1dB", "--drive", "100mV", "--across", "--meter-accuracy", "0.5%"});
    CHECK(answer.status == 0);
    const auto r = json(answer.text);
    CHECK(number(r, "measured.level_db") ==
          Approx(truth("takes.earphone-s-right-441.spl_db")).margin(0.008).epsilon(0.0));
    CHECK(number(r, "tone.hum_hz") == Approx(60.0).margin(0.1));
    CHECK_THAT(notes(r), !Catch::Contains("hum at 60 Hz") && Catch::Contains("DC"));
}

TEST_CASE("without uncertainties the verdict is null and the notes say what is missing")
{
    const Bench bench;
    const Answer answer = bench.call(runRead, "read",
                                     {takes + "earphone-s-left.wav", "--offset", "121.97dB", "--rating", "112.40dB/V",
                                      "--drive", "123mV", "--across"});
    CHECK(answer.status == 1); // what was asked cannot be judged
    const auto r = json(answer.text);
    CHECK(isNull(r, "verdict"));
    CHECK(isNull(r, "measured.expanded_uncertainty_db"));
    CHECK(isNull(r, "expected.expanded_uncertainty_db"));
    CHECK(isNull(r, "difference_uncertainty_db"));
    CHECK(number(r, "difference_db") == Approx(93.968 - 94.198).margin(0.01));
    CHECK_THAT(notes(r), Catch::Contains("offset's uncertainty") && Catch::Contains("tolerance") &&
                             Catch::Contains("voltmeter") && Catch::Contains("frequency"));
}

TEST_CASE("silence has no level and says so")
{
    const Bench bench;
    (void)bench.reference("calibrator.wav", {"--keep"});
    const Answer answer = bench.read("silence.wav", {});
    CHECK(answer.status == 1);
    const auto r = json(answer.text);
    CHECK(isNull(r, "measured.level_db"));
    CHECK(isNull(r, "tone.level_dbfs"));
    CHECK_THAT(notes(r), Catch::Contains("mains at 50 Hz"));
}

TEST_CASE("a clipped take shows its level and has no verdict")
{
    const Bench bench;
    (void)bench.reference("calibrator.wav", {"--keep"});
    const Answer answer =
        bench.read("earphone-clipped.wav", {"--rating", "112dB/V", "--rating-tolerance", "1dB", "--rating-frequency",
                                            "1kHz", "--drive", "1V", "--across", "--meter-accuracy", "1%"});
    CHECK(answer.status == 1);
    const auto r = json(answer.text);
    CHECK(number(r, "measured.level_db") > 120.0);
    CHECK(isNull(r, "verdict"));
    CHECK(number(r, "tone.clipped_samples") > 1000);
    CHECK_THAT(notes(r), Catch::Contains("clipped"));
}

TEST_CASE("a knock leaves the good part of the calibrator's take")
{
    const Bench bench;
    const auto r = json(bench.reference("calibrator-knocked.wav").text);
    CHECK(number(r, "offset_db") == Approx(truth("offset_db")).margin(0.005).epsilon(0.0));
    CHECK_THAT(notes(r), Catch::Contains("disturbed"));
}

TEST_CASE("a calibrator that slips evenly is refused with its reason, and not kept")
{
    const Bench bench;
    const Answer answer = bench.reference("calibrator-loose.wav", {"--keep"});
    CHECK(answer.status == 1);
    const auto r = json(answer.text);
    CHECK_FALSE(flag(r, "fit_to_use"));
    CHECK_THAT(notes(r), Catch::Contains("0.056 dB/s") && Catch::Contains("not kept"));
    CHECK_FALSE(std::filesystem::exists(bench.folder / "readings.jsonl"));
    CHECK_FALSE(std::filesystem::exists(bench.folder));
}

TEST_CASE("silence and clipping are no references")
{
    const Bench bench;
    const Answer silence = bench.reference("silence.wav");
    CHECK(silence.status == 1);
    CHECK(isNull(json(silence.text), "offset_db"));
    const Answer clipped = bench.reference("earphone-clipped.wav");
    CHECK(clipped.status == 1);
    CHECK_THAT(notes(json(clipped.text)), Catch::Contains("clip"));
}

TEST_CASE("pink noise has its unweighted level")
{
    const Bench bench;
    const auto r = json(bench.call(runLevels, "levels", {takes + "pink-noise.wav", "--offset", "121.97dB"}).text);
    CHECK(number(r, "Z.leq_db") == Approx(truth("takes.pink-noise.spl_db")).margin(0.05).epsilon(0.0));
    CHECK(text(r, "unit") == "dB SPL");
    CHECK(number(r, "Z.exposure_db") == Approx(number(r, "Z.leq_db") + 10.0).margin(0.001)); // 10 s
}

TEST_CASE("a kept reading is one line that rests on its reference")
{
    const Bench bench;
    (void)bench.reference("calibrator.wav", {"--keep"});
    (void)bench.read("earphone-s-left.wav", with(ratingOfS, {"--drive", "123.2mV", "--keep"}));
    (void)bench.read("earphone-s-left.wav", with(ratingOfS, {"--drive", "123.2mV", "--keep"}));
    std::ifstream file(bench.folder / "readings.jsonl");
    std::string line;
    int lines = 0;
    for (; std::getline(file, line); ++lines) {
        const auto r = json(line);
        CHECK(text(r, "kind") == "reading");
        CHECK(number(r, "reference.offset_db") == Approx(121.97).margin(0.005));
        CHECK(number(r, "measured.level_db") == Approx(93.97).margin(0.01));
    }
    CHECK(lines == 2);
}

TEST_CASE("the demo prints the scenario's readings")
{
    const Bench bench;
    const auto arguments = Arguments::from(*verbNamed("demo"), {"--out", bench.folder.string()});
    REQUIRE(arguments);
    const auto answer = runDemo(*arguments);
    REQUIRE(answer);
    CHECK(answer->status == 0);
    CHECK_THAT(answer->text, Catch::Contains("offset 121.89 \u00b10.56"));
    CHECK_THAT(answer->text, Catch::Contains("correction   1.44 \u00b10.55"));
    CHECK_THAT(answer->text,
               Catch::Contains("earphone S, left   measured 93.89 \u00b10.61   expected 93.86 \u00b11.00   "
                               "difference +0.03   agrees   dB SPL\n"));
    CHECK_THAT(answer->text, Catch::Contains("earphone P, left") && Catch::Contains("no proof"));
    CHECK(std::count(answer->text.begin(), answer->text.end(), '\n') == 11);
    // Again into the same folder: nothing is lost, nothing refused.
    CHECK(runDemo(*arguments));
}
