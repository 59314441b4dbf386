// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Dispatch.h"
#include "Library/Folder.h"
#include "Library/Json.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace couplet;
using namespace couplet::tests;

namespace {

const std::string sketch = "kind,name,level_db,expected_db,tolerance_db,expanded_uncertainty_db\n"
                           "direct,cork sleeve,114.891\ndirect,cork sleeve,114.946\ndirect,cork sleeve,115.057\n"
                           "direct,silicone collar,114.653\ndirect,silicone collar,114.693\n"
                           "direct,silicone collar,114.772\n"
                           "through,,113.259\nthrough,,113.289\nthrough,,113.365\n"
                           "earphone,earphone P,96.18,94.60,0.8,0.24\naside,earphone S,95.33,93.86,1.0,0.24\n";

struct Bench
{
    Bench() : folder(scratch.path / "library")
    {
        writeContent(scratch.path / "readings.csv", sketch);
        Coupler coupler;
        coupler.name = "bench";
        REQUIRE(folder.save(coupler));
        for (const char* name : {"earphone P", "earphone S", "earphone T"}) {
            Earphone e;
            e.name = name;
            e.rating.level_dB = 112.4;
            if (e.name == "earphone T")
                e.choseCorrectionOf = {"bench"};
            REQUIRE(folder.save(e));
        }
        Calibrator calibrator;
        calibrator.name = "Lab";
        calibrator.tones = {{Hertz(1000.0), 114.02, 0.15}};
        REQUIRE(folder.save(calibrator));
    }

    Outcome<Answer> fit(std::vector<std::string> words) const
    {
        words.insert(words.begin(),
                     {"fit", (scratch.path / "readings.csv").string(), "--library", folder.path().string()});
        return runCommand(words);
    }
    std::vector<std::string> marksOf(const char* earphone) const
    {
        return folder.earphone(earphone)->choseCorrectionOf;
    }

    Scratch scratch;
    Folder folder;
};

const JsonValue& field(const JsonValue& value, const std::string& name)
{
    const auto& object = *value.as<JsonObject>();
    const auto found =
        std::find_if(object.begin(), object.end(), [&](const auto& member) { return member.first == name; });
    REQUIRE(found != object.end());
    return found->second;
}

JsonValue parsed(const Outcome<Answer>& answer)
{
    REQUIRE(answer);
    auto value = parsedJson(answer->text, "answer");
    REQUIRE(value);
    return *value;
}

} // namespace

TEST_CASE("fit answers with the fields of its grammar, in their order")
{
    const Bench bench;
    const auto value = parsed(bench.fit({"--json", "--calibrator-uncertainty", "0.15dB"}));
    std::vector<std::string> names;
    for (const auto& [name, content] : *value.as<JsonObject>())
        names.push_back(name);
    CHECK(names == std::vector<std::string>{"headline", "contradiction", "sentences", "fittings", "through",
                                            "earphones", "correction_db", "interval_db", "expanded_uncertainty_db",
                                            "standard_uncertainty_db", "error_per_scatter", "error_sign",
                                            "not_told_apart", "notes"});
    const auto& interval = *field(value, "interval_db").as<JsonList>();
    CHECK(*field(value, "expanded_uncertainty_db").as<double>() ==
          Approx(0.5 * (*interval[1].as<double>() - *interval[0].as<double>())).margin(2e-6));
    const auto& earphones = *field(value, "earphones").as<JsonList>();
    REQUIRE(earphones.size() == 2);
    CHECK(field(earphones[1], "kept_aside").as<bool>());
    CHECK(*field(earphones[1], "kept_aside").as<bool>());
    CHECK_FALSE(*field(earphones[0], "contradicts").as<bool>());
}

TEST_CASE("without the certificate the correction stands and its uncertainty is null, with the reason")
{
    const Bench bench;
    const auto value = parsed(bench.fit({"--json"}));
    CHECK(field(value, "correction_db").as<double>());
    for (const char* name : {"interval_db", "expanded_uncertainty_db", "standard_uncertainty_db"})
        CHECK(field(value, name).as<std::monostate>());
    CHECK(*field(value, "notes").as<JsonList>()->front().as<std::string>() ==
          "the uncertainty of the calibrator's level is not stated");
}

TEST_CASE("a kept correction is the coupler's, and those that chose it bear the mark")
{
    const Bench bench;
    const auto answer = bench.fit({"--calibrator", "Lab", "--coupler", "bench", "--keep"});
    REQUIRE(answer);
    CHECK(answer->status == 0);
    CHECK(answer->text.find("its 114.02 dB stands for") != std::string::npos);
    const auto correction = bench.folder.coupler("bench")->correction;
    REQUIRE(correction);
    CHECK(correction->calibrator == "Lab");
    CHECK(correction->frequency == Hertz(1000.0));
    CHECK(correction->includesCalibrator);
    CHECK(correction->U_dB);
    CHECK(bench.marksOf("earphone P") == std::vector<std::string>{"bench"});
    CHECK(bench.marksOf("earphone S").empty());
    CHECK(bench.marksOf("earphone T").empty()); // chose an earlier one
}

TEST_CASE("evidence that contradicts itself ends with status 1, and a wrong call with a fault and nothing kept")
{
    const Bench bench;
    CHECK_FALSE(bench.fit({"--keep"}));
    CHECK_FALSE(bench.fit({"--coupler", "nowhere"}));
    CHECK_FALSE(bench.fit({"--calibrator", "Lab", "--calibrator-uncertainty", "0.15dB"}));
    CHECK_FALSE(bench.folder.coupler("bench")->correction);
    writeContent(bench.scratch.path / "readings.csv", sketch + "earphone,liar,103.0,94.0,0.5,0.24\n");
    const auto answer =
        bench.fit({"--calibrator-uncertainty", "0.15dB", "--coupler", "bench", "--frequency", "1000Hz", "--keep"});
    REQUIRE(answer);
    CHECK(answer->status == 1);
    CHECK(answer->text.starts_with("The evidence contradicts itself: "));
    CHECK(answer->text.find("off this calibrator") == std::string::npos);
    CHECK(answer->text.find("not kept: the evidence contradicts itself") != std::string::npos);
    CHECK(answer->text.find("Liar lies outside its rating: it says 9.00 dB") != std::string::npos);
    CHECK_FALSE(bench.folder.coupler("bench")->correction);
}

TEST_CASE("a correction is kept for one frequency and one calibrator, from options or from the table's columns")
{
    const Bench bench;
    const auto refusal = [&](const std::vector<std::string>& words) {
        const auto answer = bench.fit(words);
        return answer ? "no fault" : answer.fault().sentence;
    };
    const std::vector<std::string> keep{"--calibrator-uncertainty", "0.15dB", "--coupler", "bench", "--keep"};
    CHECK_THAT(refusal(keep), Catch::Contains("at which frequency"));
    CHECK_FALSE(bench.folder.coupler("bench")->correction);

    auto withFrequency = keep;
    withFrequency.insert(withFrequency.end(), {"--frequency", "250Hz"});
    auto answer = bench.fit(withFrequency);
    REQUIRE(answer);
    CHECK_THAT(answer->text, Catch::Contains("a reference counts its calibrator's certificate besides"));
    CHECK(bench.folder.coupler("bench")->correction->frequency == Hertz(250.0));
    CHECK(bench.folder.coupler("bench")->correction->calibrator.empty());
    CHECK(bench.folder.coupler("bench")->correction->chosenBy == std::vector<std::string>{"earphone P"});
    CHECK_THAT(refusal({"--calibrator", "Lab", "--frequency", "250Hz"}),
               Catch::Contains("'Lab' has no tone at 250 Hz"));

    const std::string columns = "kind,name,level_db,frequency_hz,calibrator\n"
                                "direct,cork sleeve,114.891,1000.02,Lab\ndirect,cork sleeve,114.946,,\n"
                                "through,,113.259,999.98,Lab\nthrough,,113.289,1000,Lab\n";
    writeContent(bench.scratch.path / "readings.csv", columns);
    answer = bench.fit(keep);
    REQUIRE(answer);
    const auto correction = *bench.folder.coupler("bench")->correction;
    CHECK(correction.frequency->value == Approx(1000.02));
    CHECK(correction.calibrator == "Lab");
    CHECK_THAT(answer->text, !Catch::Contains("certificate besides"));
    CHECK_THAT(refusal(withFrequency), Catch::Contains("not all readings are of 250 Hz"));
    writeContent(bench.scratch.path / "readings.csv", columns + "through,,113.3,1000,another\n");
    CHECK_THAT(refusal(keep), Catch::Contains("of one frequency and one calibrator"));
    CHECK(*bench.folder.coupler("bench")->correction == correction); // nothing was kept
}

TEST_CASE("fit tells how many more readings would do, or that none would")
{
    const Bench bench;
    const auto answer = bench.fit({"--calibrator-uncertainty", "0.15dB", "--wanted-uncertainty", "0.1dB"});
    REQUIRE(answer);
    CHECK(answer->text.find("to bring U to 0.10 dB\n  cork sleeve: not with 1000 more") != std::string::npos);
}
