// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

// A bare item of each kind: whatever may be absent is.
std::vector<Item> bareItems()
{
    Coupler coupler;
    coupler.name = "c";
    Calibrator calibrator;
    calibrator.name = "c";
    calibrator.tones = {CertifiedTone{}};
    Earphone earphone;
    earphone.name = "e";
    return {coupler, calibrator, earphone, DriveSource{"d", {}, {}, {}}};
}

std::vector<Item> fullItems()
{
    return {fullCoupler("Büro 2"), fullCalibrator("a"), fullEarphone("耳"), fullDriveSource("d")};
}

} // namespace

TEST_CASE("each kind of item comes back from its text, and its text byte for byte")
{
    auto items = bareItems();
    for (const auto& item : fullItems())
        items.push_back(item);
    for (const auto& item : items) {
        const auto text = textOf(item);
        INFO(text);
        const auto back = itemFrom(text, "here");
        REQUIRE(back);
        CHECK(*back == item);
        CHECK(textOf(*back) == text);
    }
}

TEST_CASE("every form of rating and pressure law comes back from its text")
{
    for (const auto form : {Rating::Form::perVolt, Rating::Form::perMilliwatt, Rating::Form::atVoltage}) {
        auto earphone = fullEarphone("e");
        earphone.rating.form = form;
        if (form != Rating::Form::atVoltage)
            earphone.rating.voltage.reset();
        const auto back = itemFrom(textOf(earphone), "here");
        REQUIRE(back);
        CHECK(std::get<Earphone>(*back) == earphone);
    }
    for (const auto kind : {PressureLaw::Kind::notStated, PressureLaw::Kind::none, PressureLaw::Kind::piston,
                            PressureLaw::Kind::coefficient}) {
        auto calibrator = fullCalibrator("c");
        calibrator.pressureLaw = {kind, kind == PressureLaw::Kind::coefficient ? 0.25 : 0.0};
        const auto back = itemFrom(textOf(calibrator), "here");
        REQUIRE(back);
        CHECK(std::get<Calibrator>(*back) == calibrator);
        CHECK((textOf(calibrator).find("pressureLaw") == std::string::npos) == (kind == PressureLaw::Kind::notStated));
    }
}

TEST_CASE("a reference of before corrections and moves were recorded reads as one that tells of neither")
{
    const auto old = itemFrom(R"({"kind": "coupler", "version": 1, "name": "bench", "allowedAge_h": 24,
        "correction": {"value_dB": 1.36}, "references": [{"takenAt": "2026-05-03T12:04:11Z", "offset_dB": 121.97,
        "tone_dBFS": -9.31, "frequency_Hz": 1000, "sampleRate_Hz": 48000, "channel": 1, "fitToUse": true,
        "addends": [{"name": "certified level, 1 kHz", "value_dB": 114.02},
                    {"name": "taken by the coupler", "value_dB": -1.25},
                    {"name": "full scale above the tone at the input", "value_dB": 9.31}]}]})",
                              "old");
    REQUIRE(old);
    const auto& coupler = std::get<Coupler>(*old);
    CHECK_FALSE(coupler.correction->chosenBy);
    const Reference& reference = coupler.references.front();
    CHECK_FALSE(reference.correction);
    CHECK_FALSE(reference.moved_dB);
    CHECK(*reference.takenOff_dB() == Approx(1.25)); // as its sum has it
    CHECK_FALSE(coupler.wasChosenBy("earphone P"));
}

TEST_CASE("an item's text is what this version has always written")
{
    Coupler coupler;
    coupler.name = "bench";
    coupler.kind = "bare microphone";
    coupler.response = {{Hertz{20.0}, -0.25}, {Hertz{20000.0}, 1.0}};
    coupler.references = {referenceAt("2026-05-03T12:04:11Z", 122.0)};
    coupler.references[0].budget = {{"seating", 0.05, infiniteDegrees, Shape::normal, "assumed"}};
    CHECK(textOf(coupler) == R"({
  "allowedAge_h": 24,
  "couplerKind": "bare microphone",
  "kind": "coupler",
  "name": "bench",
  "references": [
    {
      "budget": [
        {"name": "seating", "obtained": "assumed", "shape": "normal", "u_dB": 0.05}
      ],
      "calibrator": "typed: 114.02 dB",
      "channel": 1,
      "fitToUse": true,
      "frequency_Hz": 1000,
      "offset_dB": 122,
      "sampleRate_Hz": 48000,
      "source": "take.wav",
      "takenAt": "2026-05-03T12:04:11Z",
      "tone_dBFS": -7.980000000000004
    }
  ],
  "response": [
    {"frequency_Hz": 20, "response_dB": -0.25},
    {"frequency_Hz": 20000, "response_dB": 1}
  ],
  "version": 1
}
)");
}

TEST_CASE("an item reads the same with its fields in any order, a byte-order mark and CRLF")
{
    const auto item = itemFrom("\xEF\xBB\xBF{\"version\": 1,\r\n\"name\": \"d\", \"source_ohm\": 1.0e0,\r\n"
                               "\"kind\": \"drive source\"}\r\n",
                               "here");
    REQUIRE(item);
    CHECK(std::get<DriveSource>(*item) == DriveSource{"d", {}, Ohms{1.0}, {}});
}
