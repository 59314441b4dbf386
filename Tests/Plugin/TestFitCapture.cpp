// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitRig.h"

#include <random>

#include <cmath>

using namespace couplet;
using namespace couplet::tests;

namespace {

constexpr double near_dB = 0.02; // the simulated seat wanders by 0.01 dB

} // namespace

TEST_CASE("fittings and through are captured hands-free, group by group, and fitted as they come")
{
    FitRig t;
    CHECK_FALSE(t.view().fit);
    CHECK_THAT(t.view().whyNot, Catch::Contains("No reading counts"));
    CHECK(t.view().calibrator == "bench calibrator");
    t.processor.addFitting("collar");
    CHECK(t.view().target == FitTarget{FitKind::fitting, 0});
    t.processor.captureFitReadings(true);
    CHECK(t.view().capture == FitCaptureState::waiting);
    for (const double louder_dB : {1.36, 1.44, 1.40})
        REQUIRE(t.readOne(louder_dB));
    CHECK(t.view().captureText == "collar \u00b7 3 readings");
    CHECK(t.view().kept == 3);
    t.processor.nextFitTarget();
    CHECK(t.view().captureText == "through the coupler \u00b7 0 readings");
    for (const double louder_dB : {0.02, -0.02})
        REQUIRE(t.readOne(louder_dB));
    CHECK(t.view().kept == 5);
    CHECK(*t.view().lastKept_dB == Approx(-9.33).margin(near_dB));
    CHECK(t.view().scaleText == "dBFS"); // there is no reference
    t.processor.captureFitReadings(false);
    CHECK(t.view().capture == FitCaptureState::off);

    const auto& reading = t.view().input.fittings.at(0).readings.at(1);
    CHECK(reading.level_dB == Approx(-9.31 + 1.44).margin(near_dB));
    CHECK(reading.frequency->value == Approx(1000.0).margin(5.0));
    CHECK(reading.calibrator == "bench calibrator");
    CHECK(*reading.at_s >= *t.view().input.fittings.at(0).readings.at(0).at_s);
    CHECK(*reading.at_s == Approx(static_cast<double>(juce::Time::currentTimeMillis()) * 1e-3).margin(60.0));

    REQUIRE(t.fitted());
    REQUIRE(t.view().fit);
    CHECK(*t.view().fit->fittings.at(0).says_dB == Approx(1.40).margin(near_dB));
    CHECK(t.view().fit->hasUncertainty()); // of the library's only calibrator
    CHECK_THAT(t.view().words.headline, Catch::Contains("its 114.02 dB stands for"));
}

TEST_CASE("with a reference readings look like the calibrator's level, and a later reference does not move them")
{
    FitRig t(withReference(FitLibrary::uncorrected()));
    CHECK(t.view().scaleText == "dBFS +123.33 dB");
    t.processor.chooseFitTarget({FitKind::through, 0});
    t.processor.captureFitReadings(true);
    REQUIRE(t.readOne(0.0));
    CHECK(t.view().input.through.readings.at(0).level_dB == Approx(114.02).margin(near_dB));
    auto later = withReference(FitLibrary::uncorrected());
    later.references[0].offset_dB -= 6.0; // the gain's switch was put
    t.processor.putInSlot(1, later);
    t.rig.settle();
    REQUIRE(t.readOne(0.0));
    CHECK(t.view().input.through.readings.at(1).level_dB == Approx(114.02).margin(near_dB));
    CHECK(t.view().scaleText == "dBFS +123.33 dB");
}

TEST_CASE("an earphone is captured with its drive and says what the sketch has it say")
{
    FitRig t(withReference(FitLibrary::uncorrected()));
    CHECK(t.view().earphones.size() == 4);
    t.processor.addFitEarphone("earphone P");
    REQUIRE(t.view().input.earphones.size() == 1);
    CHECK(t.view().input.earphones[0].setAside == notReadYet);
    t.processor.setFitEarphoneAside(0, "");
    CHECK_THAT(t.view().notice, Catch::Contains("was not read yet"));
    t.processor.chooseFitTarget({FitKind::earphone, 0});
    CHECK(t.view().captureText == "earphone P \u00b7 0 readings");
    t.processor.captureFitReadings(true);

    t.put(OnCoupler::What::earphone, 0);
    t.play(2.0);
    CHECK_THAT(t.view().captureNotice, Catch::Contains("not known without its drive"));
    CHECK_FALSE(t.play(6.0, {}, [&] { return t.processor.fitView().capture != FitCaptureState::waiting; }));
    CHECK_THAT(t.view().captureNotice, Catch::Contains("not known without its drive"));
    CHECK(t.view().kept == 0);
    t.put(OnCoupler::What::nothing);
    t.play(1.5);

    t.processor.setDrive(demoScenario().earphones[0].drive);
    t.rig.set(ParameterId::meterAccuracy, 0.5);
    REQUIRE(t.readOne(0.0, OnCoupler::What::earphone));
    const auto& e = t.view().input.earphones.at(0);
    CHECK(e.setAside.empty());
    CHECK(e.says_dB() == Approx(1.58).margin(0.03));
    CHECK(*e.tolerance_dB == 0.8);
    CHECK(*e.u_dB == Approx(0.11).margin(0.001)); // its own: one insertion
    // Voltmeter 0.5 % / sqrt(3), drift 0.02, linearity 0.03, response 0.05: with every earphone of the bench.
    CHECK(e.u_shared_dB == Approx(0.067).margin(0.002));
    CHECK(t.view().input.settings.u_seating_dB == 0.05);
    REQUIRE(t.fitted());
    REQUIRE(t.view().fit);
    CHECK(t.view().fit->earphones.at(0).takesPart);
    CHECK(t.view().captureText == "earphone P \u00b7 1 reading");

    REQUIRE(t.readOne(-3.0, OnCoupler::What::earphone)); // not seated
    CHECK(t.view().captureText == "earphone P \u00b7 2 readings");
    CHECK_THAT(t.view().notice, Catch::Contains("differ by 3.0") && Catch::Contains("insert and read it again"));
    t.processor.undoFit();
    CHECK(t.view().input.earphones.at(0).says_dB() == Approx(1.58).margin(0.03));
}

TEST_CASE("a slip restarts a reading, and noise never counts")
{
    FitRig t;
    t.processor.captureFitReadings(true);
    std::mt19937 random(5);
    std::normal_distribution<double> normal(0.0, 0.1);
    t.play(10.0, [&](double, double) { return normal(random); });
    CHECK(t.view().kept == 0);
    CHECK(t.view().input.fittings.empty());
    t.put(OnCoupler::What::calibrator);
    REQUIRE(t.until(FitCaptureState::reading, 6.0));
    const double slipped = ratioFrom_dB(-0.4);
    t.play(1.6, [&](double x, double s) { return s < 0.8 ? x : slipped * x; });
    CHECK(t.view().kept == 0);
    CHECK(t.view().captureNotice == "A knock or a slip: the reading restarts.");
    REQUIRE(t.until(FitCaptureState::lift, 6.0, [&](double x, double) { return slipped * x; }));
    REQUIRE(t.view().input.fittings.size() == 1); // the first reading has made its group
    CHECK(t.view().input.fittings[0].name == "fitting 1");
    CHECK(t.view().input.fittings[0].readings.at(0).level_dB == Approx(-9.71).margin(near_dB));
}

TEST_CASE("one reading by hand is one, and a reading on another scale is pointed out")
{
    FitRig t;
    t.fill(collarTable);
    t.put(OnCoupler::What::calibrator);
    t.play(5.0);
    CHECK(*t.view().tone_dB == Approx(-9.31).margin(near_dB));
    t.processor.chooseFitTarget({FitKind::through, 0});
    t.processor.takeFitReading();
    REQUIRE(t.until(FitCaptureState::off, 6.0));
    CHECK(t.view().input.through.readings.size() == 4);
    CHECK_THAT(t.view().notice, Catch::Contains("written on another scale") && Catch::Contains("is set aside"));
    CHECK_THAT(t.view().input.through.readings.back().setAside, Catch::Contains("on another scale"));
    t.play(6.0);
    CHECK(t.view().kept == 1);
    CHECK(t.view().undoText == "Undo: reading \u22129.31 dB");
    REQUIRE(t.fitted());
    CHECK(t.view().fit->through->count == 3);
    t.processor.setFitReadingAside({FitKind::through, 0}, 3, "");
    REQUIRE(t.fitted());
    CHECK(t.view().fit->through->count == 4);
}

TEST_CASE("another coupler, channel or bench, and a reference, end a capture with their sentence")
{
    FitRig t;
    const auto ended = [&](const std::function<void()>& act) {
        t.processor.captureFitReadings(true);
        CHECK(t.view().capture == FitCaptureState::waiting);
        act();
        CHECK(t.view().capture == FitCaptureState::off);
        return t.view().captureNotice;
    };
    CHECK_THAT(ended([&] { t.processor.takeReference(); }), Catch::Contains("a reference is being taken"));
    t.processor.captureFitReadings(true);
    CHECK_THAT(t.view().notice, Catch::Contains("A reference is being taken"));
    t.processor.cancelReference();
    CHECK_THAT(ended([&] { t.rig.set(ParameterId::microphoneChannel, 2); }), Catch::Contains("channel was changed"));
    t.rig.set(ParameterId::microphoneChannel, 1);
    t.processor.putInSlot(2, plainCoupler("right bench"));
    CHECK_THAT(ended([&] { t.rig.set(ParameterId::couplerSlot, 2); }), Catch::Contains("another coupler"));
    CHECK_THAT(ended([&] {
                   t.processor.simulate(true, {OnCoupler::What::calibrator});
                   t.rig.settle();
               }),
               Catch::Contains("bench was changed"));
}
