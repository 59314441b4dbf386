// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Json.h"
#include "Library/Scratch.h"
#include "Plugin/Rig.h"

#include <catch2/catch.hpp>

#include <cstdlib>

using namespace couplet;
using namespace couplet::tests;

namespace {

// COUPLET_LIVE for as long as it lives.
struct Environment
{
    explicit Environment(const std::filesystem::path& file) { ::setenv("COUPLET_LIVE", file.c_str(), 1); }
    ~Environment() { ::unsetenv("COUPLET_LIVE"); }
};

JsonObject liveReading(const std::filesystem::path& file)
{
    const auto value = parsedJson(contentOfFile(file), file.string());
    return value ? *value->as<JsonObject>() : JsonObject{};
}

const JsonValue* field(const JsonObject& object, std::string_view name)
{
    for (const auto& [key, value] : object)
        if (key == name)
            return &value;
    return nullptr;
}

} // namespace

TEST_CASE("COUPLET_LIVE holds the latest reading as the command prints it")
{
    const Scratch scratch;
    std::filesystem::create_directories(scratch.path);
    const auto file = scratch.path / "live.json";
    const Environment environment(file);
    Rig rig;
    rig.play(1.5, -20.0);
    juce::Thread::sleep(110);
    rig.play(0.1, -20.0);
    const auto reading = liveReading(file);
    const auto* tone = field(reading, "tone");
    REQUIRE(tone != nullptr);
    const auto* level = field(*tone->as<JsonObject>(), "level_dbfs");
    REQUIRE((level != nullptr && level->as<double>() != nullptr));
    CHECK(*level->as<double>() == Approx(-20.0).margin(0.001));
    for (const char* name : {"measured", "expected", "difference_db", "verdict", "coupler", "notes"})
        CHECK(field(reading, name) != nullptr);
    REQUIRE(field(reading, "simulated") != nullptr);
    CHECK(*field(reading, "simulated")->as<bool>() == false);

    rig.processor->simulate(true, {OnCoupler::What::calibrator});
    rig.play(1.5, -20.0);
    juce::Thread::sleep(110);
    rig.play(0.1, -20.0);
    CHECK(*field(liveReading(file), "simulated")->as<bool>() == true);
    CHECK(contentOfFile(file).find("simulated: this bench does not exist") != std::string::npos);
}

TEST_CASE("a second instance in the process writes to a numbered file, and a free number is given again")
{
    const Scratch scratch;
    std::filesystem::create_directories(scratch.path);
    const auto name = scratch.path / "live.json";
    const LiveFile silent(name); // a host's trial instance: it takes no number
    auto first = std::make_unique<LiveFile>(name);
    LiveFile second(name), third(name), fourth(name);
    REQUIRE(first->write("1"));
    REQUIRE(second.write("2"));
    CHECK(first->path() == name);
    CHECK(second.path() == scratch.path / "live.json.2");
    first.reset();
    REQUIRE(third.write("3"));
    REQUIRE(fourth.write("4"));
    CHECK(third.path() == name);
    CHECK(fourth.path() == scratch.path / "live.json.3");
    CHECK(contentOfFile(name) == "3");
}

TEST_CASE("the live file is written at most ten times a second and leaves nothing beside it")
{
    const Scratch scratch;
    std::filesystem::create_directories(scratch.path);
    const auto file = scratch.path / "live.json";
    const Environment environment(file);
    Rig rig;
    int writings = 0;
    std::filesystem::file_time_type last{};
    const auto end = juce::Time::getMillisecondCounter() + 1000;
    while (juce::Time::getMillisecondCounter() < end) {
        rig.play(0.01, -20.0);
        if (std::filesystem::exists(file) && std::filesystem::last_write_time(file) != last) {
            last = std::filesystem::last_write_time(file);
            ++writings;
        }
    }
    CHECK(writings >= 5);
    CHECK(writings <= 11);
    CHECK(std::distance(std::filesystem::directory_iterator(scratch.path), {}) == 1);
}

TEST_CASE("a live file that cannot be written is said in the view, once a reading goes on")
{
    const Environment environment("/nowhere/at/all/live.json");
    Rig rig;
    rig.play(1.5, -20.0);
    CHECK(*rig.measured_dB() == Approx(-20.0).margin(0.001));
    CHECK(rig.view().stateNotice.find("COUPLET_LIVE cannot write '/nowhere/at/all/live.json'") != std::string::npos);
}
