// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitEarphones.h"
#include "Bench/FitSheet.h"
#include "Bench/FitWords.h"
#include "Bench/Session.h"
#include "Bench/SheetText.h"
#include "Bench/SimulatedFit.h"
#include "Bench/SimulatedPapers.h"
#include "Metrology/Offset.h"
#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace couplet;

namespace {

FitSheet fullSheet()
{
    FitSheet sheet;
    sheet.input = fitOnPaper(demoScenario());
    sheet.input.fittings[1].readings[2] = {115.565123, "the cable was moved", 1777900000.25, Hertz(999.987), "bench"};
    auto& phone = sheet.input.earphones[0];
    phone.insertions = {{96.1, {}, 1777900100.5, false, 94.6, 0.06, 0.11},
                        {96.3, "the tip slipped", {}, true, 94.6},
                        {0.1 + 0.2, {}, {}, true, 0.1, 0.07}};
    phone.u_stated_dB = 0.1 + 0.7;
    sheet.input.earphones[1].setAside = notReadYet;
    sheet.input.earphones[2].tolerance_dB.reset();
    sheet.input.earphones[2].u_dB.reset();
    sheet.input.settings.microphoneBuiltIn = false;
    sheet.zero_dB = 123.33;
    sheet.certified_dB = 114.02;
    sheet.noCalibrator = true;
    sheet.coupler = "left bench";
    return sheet;
}

// The scenario's coupler with a reference that took its correction off.
Coupler referenced()
{
    const auto scenario = demoScenario();
    ReferenceInput input;
    input.certifiedLevel_dB = 114.02;
    input.certificateU_dB = 0.15;
    input.correction = couplerOnPaper(scenario).correction;
    input.tone_dBFS = -9.31;
    input.frequency = Hertz(1000.0);
    const auto offset = offsetFrom(input);
    REQUIRE(offset);
    Coupler coupler = couplerOnPaper(scenario);
    Reference reference;
    reference.takenAt = "2026-05-03T12:00:00Z";
    reference.offset_dB = offset->level_dB;
    reference.addends = offset->addends;
    reference.budget = offset->budget;
    reference.frequency = Hertz(1000.0);
    coupler.references = {reference};
    return coupler;
}

ToneSummary toneAt(double level_dBFS, double frequency_Hz)
{
    ToneSummary tone;
    tone.level_dBFS = level_dBFS;
    tone.frequency = Hertz(frequency_Hz);
    tone.steadiness_dB = 0.01;
    return tone;
}

} // namespace

TEST_CASE("a sheet of readings comes back whole from its text")
{
    const auto sheet = fullSheet();
    const auto text = printedJson(jsonOf(sheet), JsonLayout::file);
    const auto back = tests::sheetFrom(text);
    REQUIRE(back);
    CHECK(*back == sheet);
    CHECK(printedJson(jsonOf(*back), JsonLayout::file) == text);
    CHECK(FitSheet{}.isNew());
    CHECK_FALSE(sheet.isNew());
}

TEST_CASE("a sheet from before couplers were kept is of none that is known")
{
    auto text = printedJson(jsonOf(fullSheet()), JsonLayout::line);
    const std::string piece = ", \"coupler\": \"left bench\"";
    REQUIRE(text.find(piece) != std::string::npos);
    text.erase(text.find(piece), piece.size());
    const auto back = tests::sheetFrom(text);
    REQUIRE(back);
    CHECK(back->coupler.empty());
    CHECK(printedJson(jsonOf(*back), JsonLayout::line) == text);
}

TEST_CASE("a sheet holds readings once anything was read, and not while earphones wait for it")
{
    FitInput input;
    input.fittings = {{"collar", {}}};
    input.earphones = {*unreadEarphone(earphoneOnPaper(demoScenario(), 0))};
    CHECK_FALSE(holdsReadings(input));
    auto read = input;
    read.earphones[0].setAside.clear();
    CHECK(holdsReadings(read));
    read = input;
    read.through.readings.push_back({113.3, "slipped", {}, {}, {}});
    CHECK(holdsReadings(read));
    input.fittings[0].readings.push_back({114.7, {}, {}, {}, {}});
    CHECK(holdsReadings(input));
}

TEST_CASE("a sheet's size is never told too small")
{
    auto sheet = fullSheet();
    for (int n = 0; n < 10000; ++n)
        sheet.input.through.readings.push_back(
            {113.3 + 1e-6 * n, n % 3 == 0 ? "\"quoted\"" : "", 1777900000.0 + n, Hertz(1000.123), "bench calibrator"});
    CHECK(bytesOf(sheet) >= printedJson(jsonOf(sheet), JsonLayout::file).size());
    CHECK(bytesOf(sheet) < largestSheet_bytes);
}

TEST_CASE("a sheet's size is what a session's text grows by")
{
    FitSheet sheet;
    sheet.input.earphones = fitOnPaper(demoScenario()).earphones;
    auto& phone = sheet.input.earphones[2];
    for (int n = 0; n < 1000; ++n)
        phone.insertions.push_back(
            {-196.1 - 1e-13 * n, "\"\"", 1777900000.1 + 1e-3 * n, true, 0.1 / 3.0, 0.1 / 3.0, 0.1 / 3.0});
    phone.u_stated_dB = 0.1 / 3.0;
    phone.setAside = std::string(120, '\1'); // six characters each
    SavedSession saved;
    const auto before = textOf(saved).size();
    saved.session.fit = sheet;
    const auto grown = textOf(saved).size() - before;
    CHECK(bytesOf(sheet) >= grown);
    CHECK(bytesOf(sheet) < grown + 10);
}

TEST_CASE("a damaged sheet is refused with its place")
{
    const auto whole = printedJson(jsonOf(fullSheet()), JsonLayout::line);
    const auto fault = [&](const std::string& piece, const std::string& instead) {
        auto text = whole;
        REQUIRE(text.find(piece) != std::string::npos);
        text.replace(text.find(piece), piece.size(), instead);
        const auto back = tests::sheetFrom(text);
        return back ? std::string() : back.fault().sentence;
    };
    CHECK_THAT(fault("\"level_dB\": 116.11", "\"level_dB\": 1e9"), Catch::Contains("fittings[0].readings[0].level_dB"));
    CHECK_THAT(fault("\"name\": \"paper shim\"", "\"name\": \"bare adapter\""), Catch::Contains("stands twice"));
    CHECK_THAT(fault("\"name\": \"paper shim\"", "\"name\": \"\""), Catch::Contains("fittings[1].name"));
    CHECK_THAT(fault("\"u_transfer_dB\": 0.15", "\"u_transfer_dB\": -1"), Catch::Contains("settings.u_transfer_dB"));
    CHECK_THAT(fault("\"zero_dB\"", "\"zero\""), Catch::Contains("zero is a field"));
    CHECK_THAT(fault("\"level_dB\": 96.1,", "\"level_dB\": \"loud\","),
               Catch::Contains("earphones[0].insertions[0].level_dB"));
    CHECK_THAT(fault("\"expected_dB\": 0.1,", ""), Catch::Contains("earphones[0].insertions[2].expected_dB stands at"));
    CHECK_THAT(fault("\"seatedAnew\"", "\"seated\""), Catch::Contains("earphones[0].insertions[1].seated is a field"));
    CHECK_THAT(fault("\"u_insertion_dB\": 0.11", "\"u_insertion_dB\": -1"), Catch::Contains("u_insertion_dB"));
    CHECK_THAT(fault(", \"u_insertion_dB\": 0.11", ""), Catch::Contains("u_insertion_dB is missing"));
    CHECK_THAT(fault("\"insertions\":", "\"insertions_dB\": [96.1], \"insertions\":"),
               Catch::Contains("insertions_dB stands beside 'insertions'"));
}

TEST_CASE("an earphone is read as if the coupler took nothing away, and its u holds neither correction nor calibrator")
{
    const auto scenario = demoScenario();
    Setup setup;
    setup.coupler = referenced();
    setup.earphone = earphoneOnPaper(scenario, 0);
    setup.drive = driveOnPaper(scenario, 0);
    CHECK(*offsetAsIfBare_dB(setup.coupler) == Approx(114.02 + 9.31).margin(1e-9));
    const auto reading = readEarphone(toneAt(94.82 - 121.97, 1000.02), setup);
    REQUIRE(reading);
    CHECK(reading->level_dB == Approx(94.82 + 1.36).margin(0.001));
    // 118.70 dB for 1 V at 62.4 mV across the earphone.
    CHECK(*reading->expected_dB == Approx(118.70 + 20.0 * std::log10(0.0624)).margin(0.001));
    CHECK(*reading->tolerance_dB == 0.8);
    // Response 0.05, drift 0.02, linearity 0.03, the voltmeter's 0.5 % over the root of three: every earphone's alike.
    CHECK(reading->u_shared_dB == Approx(std::sqrt(0.0025 + 0.0004 + 0.0009 + 0.000625)).margin(0.001));
    CHECK(*reading->u_dB == 0.0);
    CHECK(reading->u_insertion_dB == 0.11);
    CHECK(reading->u_seating_dB == 0.05);

    auto withoutU = setup;
    withoutU.coupler->references[0].missing = {"the uncertainty of the coupler's correction is not stated"};
    CHECK(readEarphone(toneAt(-27.0, 1000.0), withoutU)->u_dB);
    auto withoutMeter = setup;
    withoutMeter.drive->meterAccuracy.reset();
    CHECK_FALSE(readEarphone(toneAt(-27.0, 1000.0), withoutMeter)->u_dB);
}

TEST_CASE("an earphone that cannot be read says why")
{
    Setup setup;
    setup.coupler = couplerOnPaper(demoScenario());
    setup.earphone = earphoneOnPaper(demoScenario(), 0);
    const auto why = [&](double frequency_Hz = 1000.0) {
        const auto reading = readEarphone(toneAt(-27.0, frequency_Hz), setup);
        return reading ? std::string() : reading.fault().sentence;
    };
    CHECK_THAT(why(), Catch::Contains("coupler's reference, and there is none"));
    CHECK_FALSE(offsetAsIfBare_dB(setup.coupler));
    setup.coupler = referenced();
    CHECK_THAT(why(), Catch::Contains("is not known without its drive"));
    setup.drive = driveOnPaper(demoScenario(), 0);
    CHECK_THAT(why(250.0), Catch::Contains("the rating holds at 1 kHz only"));
    CHECK(why().empty());
}

TEST_CASE("insertions of an earphone become their mean, whatever drove each")
{
    auto e = *unreadEarphone(earphoneOnPaper(demoScenario(), 0));
    CHECK(e.setAside == notReadYet);
    CHECK(e.says_dB() == 0.0);
    CHECK(e.expected_dB == Approx(118.70));
    EarphoneReading reading{96.0, 94.6, 0.8, 0.06, 0.11, 0.05};
    addInsertion(e, reading);
    CHECK(e.setAside.empty());
    CHECK(e.says_dB() == Approx(1.4));
    CHECK(*e.u_dB == Approx(std::hypot(0.06, 0.11)));
    reading.level_dB = 90.2;
    reading.expected_dB = 88.6; // half the drive
    addInsertion(e, reading);
    CHECK(e.says_dB() == Approx(1.5));
    CHECK(*e.u_dB == Approx(std::hypot(0.06, 0.11 / std::sqrt(2.0))));
    reading.level_dB = 90.3;
    addInsertion(e, reading);
    CHECK(e.says_dB() == Approx((1.4 + 1.6 + 1.7) / 3.0));
    // The three scatter by 0.153 dB.
    CHECK(*e.u_dB == Approx(std::hypot(0.06, std::sqrt(0.07 / 3.0) / std::sqrt(3.0))).margin(1e-6));
}

TEST_CASE("one seating of an earphone read three times is held for no surer than three insertions")
{
    auto e = *unreadEarphone(earphoneOnPaper(demoScenario(), 0));
    EarphoneReading reading{96.0, 94.6, 0.8, 0.06, 0.11, 0.05};
    for (int n = 0; n < 3; ++n)
        addInsertion(e, reading);
    CHECK(*e.u_dB == Approx(std::hypot(0.06, 0.11 / std::sqrt(3.0))));
    reading.seatedAnew = true;
    reading.level_dB = 96.02;
    addInsertion(e, reading); // a second seating beside the first, no fourth
    CHECK(*e.u_dB == Approx(std::hypot(0.06, 0.11 / std::sqrt(4.0))));
}

TEST_CASE("an earphone whose rating is not complete chooses no correction")
{
    auto earphone = earphoneOnPaper(demoScenario(), 0);
    earphone.rating.tolerance_dB.reset();
    CHECK_THAT(unreadEarphone(earphone).fault().sentence, Catch::Contains("does not state its tolerance"));
    earphone.rating.impedance.reset();
    CHECK_THAT(unreadEarphone(earphone).fault().sentence, Catch::Contains("does not state its impedance"));
    earphone.rating.frequency.reset();
    CHECK_THAT(unreadEarphone(earphone).fault().sentence, Catch::Contains("does not state its frequency"));
}

TEST_CASE("every degenerate bench ends in words, ten thousand readings too")
{
    FitInput input;
    input.settings.u_calibrator_dB = 0.075;
    const auto fault = [&] {
        const auto fit = fitCorrection(input);
        return fit ? std::string() : fit.fault().sentence;
    };
    CHECK_THAT(fault(), Catch::Contains("no reading counts"));
    input.fittings.push_back({"collar", {{114.7, {}, {}, {}, {}}}});
    CHECK_THAT(fault(), Catch::Contains("no reading through the coupler that counts, and no earphone"));
    std::swap(input.through.readings, input.fittings[0].readings);
    CHECK_THAT(fault(), Catch::Contains("only readings through the coupler count"));
    input.through.readings.clear();
    for (int n = 0; n < 5000; ++n) {
        input.fittings[0].readings.push_back({114.7 + 0.05 * std::sin(1.7 * n), {}, {}, {}, {}});
        input.through.readings.push_back({113.3 + 0.04 * std::cos(2.3 * n), {}, {}, {}, {}});
    }
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    const auto words = wordsOf(input, *fit, 114.02);
    CHECK(fit->correction_dB() > 1.2);
    CHECK(fit->correction_dB() < 1.4);
    CHECK(words.sentences.front() == "One piece of evidence is all there is.");
    CHECK(std::any_of(words.notes.begin(), words.notes.end(),
                      [](const auto& note) { return note.starts_with("there is one fitting"); }));
    CHECK(words.notes.size() < 10);
}
