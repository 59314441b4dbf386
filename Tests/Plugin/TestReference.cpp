// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/ReferenceRig.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("a reference taken live is in the session, in the library and in force")
{
    Taking t;
    t.played.seat();
    t.played.play(5.0);
    CHECK(t.view().canTake);
    CHECK(t.view().calibrator == "bench calibrator");
    CHECK(t.view().sumIsLive);
    CHECK(t.view().fit);
    CHECK(t.view().limitsText == "class 1 limits");
    CHECK(t.view().history.points.empty());
    CHECK_FALSE(t.rig.view().reading.referenced);

    t.processor.setSeatings(3);
    t.processor.takeReference();
    for (int n = 1; n <= 3; ++n) {
        REQUIRE(t.until(n < 3 ? CaptureState::lift : CaptureState::done, 20.0));
        if (n == 3)
            break;
        CHECK(t.view().seatingsKept == n);
        CHECK_THAT(t.view().progressText, Catch::StartsWith("seating " + std::to_string(n + 1) + " of 3"));
        t.played.lift();
        t.played.play(2.0);
        t.played.seat();
    }
    REQUIRE(t.inSession().references.size() == 1);
    CHECK(t.inSession().references == t.inLibrary().references);
    const Reference r = t.inSession().references.front();
    CHECK(r.offset_dB == Approx(trueOffset_dB).margin(0.005));
    CHECK(r.sampleRate_Hz == 48000.0);
    CHECK(r.source == "live");

    const ReferenceView& view = t.view();
    CHECK(*view.offset_dB == Approx(trueOffset_dB).margin(0.005));
    CHECK(*view.atMicrophone_dB == Approx(112.66).margin(1e-9));
    CHECK(*view.tone_dBFS == Approx(-9.31).margin(0.005));
    CHECK(view.toMicrophone.size() == 3);
    CHECK(view.storeNotice.empty());
    CHECK(view.canUndo);
    REQUIRE(view.budget.size() == 5);
    CHECK(view.budget[1].term.obtained == "scatter of 3 seatings");
    const auto linearity = std::find_if(view.budget.begin(), view.budget.end(),
                                        [](const auto& row) { return row.term.name == "linearity"; });
    REQUIRE(linearity != view.budget.end()); // one level does not show it
    // Its third harmonic, 0.6 of 0.42 %, may all be the input's: then a gain of 1 / (1 - 3 h), as a rectangle.
    CHECK(linearity->term.u_dB == Approx(-20.0 * std::log10(1.0 - 3.0 * 0.6 * 0.0042) / std::sqrt(3.0)).margin(0.0005));
    CHECK(linearity->term.obtained == "assumed: a third harmonic of 0.25 %");
    double shares = 0.0;
    for (const auto& row : view.budget)
        shares += row.share_percent;
    CHECK(shares == Approx(100.0));
    CHECK(view.history.points.size() == 1);
    CHECK_THAT(view.history.dueText, Catch::StartsWith("due in 2"));
    CHECK_FALSE(view.cannotBeKnown.empty());
    t.played.play(0.5);
    CHECK(t.rig.view().reading.referenced);
    CHECK(t.rig.view().reference == ReferenceState::fresh);
}

TEST_CASE("a coupler that the library does not have yet joins it with its first reference")
{
    Taking t(false);
    t.played.seat();
    t.processor.setSeatings(1);
    t.processor.takeReferenceHandsFree();
    CHECK(t.view().state == CaptureState::armed);
    REQUIRE(t.until(CaptureState::done, 20.0));
    CHECK(t.inLibrary().references == t.inSession().references);
}

TEST_CASE("24 references on the simulated bench make its control chart")
{
    Rig rig;
    Processor& processor = *rig.processor;
    juce::AudioBuffer<float> buffer(2, 4800);
    juce::MidiBuffer midi;
    processor.simulate(true, {OnCoupler::What::calibrator});
    processor.setSeatings(1);
    const auto play = [&](double most_s, const std::function<bool()>& enough) {
        for (int blocks = static_cast<int>(most_s * 10.0); blocks > 0 && !enough(); --blocks) {
            processor.processBlock(buffer, midi);
            processor.tick();
        }
        rig.settle();
    };
    play(3.0, [] { return false; });
    const auto before = processor.referenceView().history.points.size(); // the bench comes with one
    constexpr std::size_t wanted = 24;
    for (std::size_t n = 0; n < wanted; ++n) {
        processor.takeReference();
        play(20.0, [&] { return processor.referenceView().state == CaptureState::done; });
        REQUIRE(processor.referenceView().state == CaptureState::done);
        CHECK(processor.referenceView().history.points.size() == before + n + 1);
    }
    const auto& chart = processor.referenceView().history.chart;
    CHECK(chart.counted == before + wanted);
    CHECK(*chart.mean_dB == Approx(trueOffset_dB).margin(0.005));
    CHECK(*chart.deviation_dB < 0.005);
    REQUIRE(chart.low_dB);
    CHECK(processor.referenceView().simulated);
    // What was taken on a bench that does not exist is in nobody's session or library.
    for (const auto& coupler : processor.sessionNow().couplers)
        CHECK((!coupler || coupler->references.empty()));
}

TEST_CASE("the reference just taken is undone by being set aside, and the one before is in force again")
{
    Taking t;
    t.played.seat();
    t.processor.setSeatings(1);
    for (int n = 0; n < 2; ++n) {
        t.processor.takeReference();
        REQUIRE(t.until(CaptureState::done, 20.0));
    }
    t.processor.undoReference();
    CHECK_FALSE(t.view().canUndo);
    REQUIRE(t.inSession().references.size() == 2);
    CHECK(t.inSession().references[1].setAside == "undone");
    CHECK(t.inLibrary().references == t.inSession().references);
    CHECK(t.view().history.points[0].current);
    t.processor.putReferenceBack(1);
    CHECK(t.view().history.points[1].current);
    t.processor.setReferenceAside(0, "gain moved");
    CHECK(t.view().history.points[0].setAside == "gain moved");
    CHECK(t.inLibrary().references[0].setAside == "gain moved");
    t.processor.setReferenceAside(9, "there is none");
    CHECK_THAT(t.view().notice, Catch::Contains("has 2 references"));
}

TEST_CASE("a point set aside in the session is set aside in a library that holds more")
{
    Taking t;
    auto fuller = t.inLibrary();
    fuller.references = {referenceAt("2026-01-01T10:00:00Z", 121.9), referenceAt("2026-01-02T10:00:00Z", 121.95)};
    REQUIRE(t.library.folder.save(fuller));
    auto lesser = plainCoupler("left bench");
    lesser.references = {fuller.references[1]};
    t.processor.putInSlot(1, lesser);
    t.rig.settle();
    t.processor.setReferenceAside(0, "gain moved");
    CHECK(t.inLibrary().references.size() == 2);
    CHECK(t.inLibrary().references[0].setAside.empty());
    CHECK(t.inLibrary().references[1].setAside == "gain moved");
}

TEST_CASE("a capture that is cancelled keeps nothing anywhere")
{
    Taking t;
    t.played.seat();
    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::lift, 20.0));
    t.processor.cancelReference();
    CHECK(t.view().state == CaptureState::cancelled);
    CHECK_FALSE(t.view().canUndo);
    t.played.play(15.0);
    CHECK(t.inSession().references.empty());
    CHECK(t.inLibrary().references.empty());
}

TEST_CASE("another coupler waits until the capture has ended")
{
    Taking t;
    t.processor.putInSlot(2, plainCoupler("right bench"));
    t.played.seat();
    t.processor.setSeatings(1);
    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::capturing, 10.0));
    t.processor.chooseCouplerSlot(2);
    t.played.play(1.0);
    CHECK(t.view().coupler == "left bench");
    CHECK_THAT(t.rig.view().couplerNotice, Catch::Contains("waits"));
    t.played.play(15.0, [&] { return t.processor.referenceView().coupler == "right bench"; });
    CHECK(t.view().coupler == "right bench");
    CHECK(t.inSession().references.size() == 1); // of the left one
    CHECK(t.processor.sessionNow().couplers[2]->references.empty());
    CHECK_FALSE(t.view().canUndo);
    t.processor.undoReference(); // not this coupler's
    CHECK(t.inSession().references[0].setAside.empty());
}

TEST_CASE("a bench that is switched to the simulated one ends a capture of the real one")
{
    Taking t;
    t.played.seat();
    t.processor.setSeatings(1);
    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::capturing, 10.0));
    t.processor.simulate(true, {OnCoupler::What::calibrator});
    t.played.play(20.0);
    CHECK(t.view().state == CaptureState::cancelled);
    CHECK_THAT(t.view().notice, Catch::Contains("was changed"));
    CHECK(t.inSession().references.empty());
}

TEST_CASE("a quick check tells and stores nothing")
{
    Taking t;
    t.played.seat();
    t.processor.setSeatings(1);
    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::done, 20.0));
    t.rig.settle();
    t.processor.checkReference();
    REQUIRE(t.until(CaptureState::done, 4.0));
    REQUIRE(t.view().check);
    CHECK(t.view().check->verdict == QuickCheck::Verdict::holds);
    CHECK_FALSE(t.view().canUndo);
    CHECK(t.inSession().references.size() == 1);
}

TEST_CASE("judged terms are the coupler's own, in the session and in the library")
{
    Taking t;
    JudgedTerms judged;
    judged.seating_dB = 0.03;
    t.processor.setJudgedTerms(judged);
    CHECK(t.view().judged == judged);
    CHECK(t.inLibrary().judged == judged);
    t.played.seat();
    t.played.play(5.0);
    REQUIRE(t.view().budget.size() == 5);
    CHECK(t.view().budget[1].term.obtained == "set by you");
}

TEST_CASE("what keeps a reference from being taken is said")
{
    Taking t;
    t.processor.chooseCouplerSlot(5);
    t.rig.settle();
    t.processor.takeReference();
    CHECK(t.view().notice == "No coupler is chosen: a reference belongs to one.");
    CHECK_FALSE(t.view().canTake);
    t.processor.chooseCouplerSlot(1);
    t.rig.settle();
    t.processor.chooseCalibrator("nobody's");
    CHECK_FALSE(t.view().canTake);
    t.processor.takeReference();
    CHECK(t.view().notice == "Choose the calibrator that is on the coupler.");
    t.processor.chooseCalibrator("bench calibrator");
    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::refused, 20.0)); // nothing on the coupler
    CHECK_FALSE(t.view().notice.empty());
}

TEST_CASE("a coupler's file that cannot be read is left alone, the session has the reference, and that is said")
{
    Taking t;
    std::filesystem::path file;
    for (const auto& entry : std::filesystem::directory_iterator(t.library.scratch.path))
        if (entry.path().filename().string().starts_with("coupler-"))
            file = entry.path();
    REQUIRE_FALSE(file.empty());
    writeContent(file, "{ torn");
    t.played.seat();
    t.processor.setSeatings(1);
    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::done, 20.0));
    CHECK(t.inSession().references.size() == 1);
    CHECK_THAT(t.view().storeNotice, Catch::StartsWith("kept in this session, but not in the library: "));
    CHECK(contentOfFile(file) == "{ torn");
}
