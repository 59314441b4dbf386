// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Rig.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("four instances read four levels")
{
    std::array<Rig, 4> rigs;
    for (std::size_t i = 0; i < rigs.size(); ++i)
        rigs[i].play(1.5, -10.0 - 7.0 * static_cast<double>(i));
    for (std::size_t i = 0; i < rigs.size(); ++i) {
        REQUIRE(rigs[i].measured_dB());
        CHECK(*rigs[i].measured_dB() == Approx(-10.0 - 7.0 * static_cast<double>(i)).margin(0.001));
    }
}

TEST_CASE("the first number is there within a second of audio, at every usual rate")
{
    for (const double rate : {8000.0, 44100.0, 48000.0, 96000.0, 192000.0, 384000.0}) {
        Rig rig(rate);
        rig.play(1.0, -23.5);
        CAPTURE(rate);
        REQUIRE(rig.measured_dB());
        CHECK(*rig.measured_dB() == Approx(-23.5).margin(0.01));
    }
}

TEST_CASE("a rate that cannot be measured at is said in words, and a good one reads again")
{
    for (const double rate : {4000.0, 768000.0}) {
        Rig rig(rate);
        rig.play(0.5, -20.0);
        CHECK_FALSE(rig.measured_dB());
        CHECK(rig.view().reading.tone.whyNoLevel.find("cannot measure at a sample rate of") != std::string::npos);
        rig.processor->prepareToPlay(48000.0, 512);
        rig.play(0.1, -200.0);
        CHECK(rig.view().reading.tone.whyNoLevel.find("sample rate") == std::string::npos);
    }
}

TEST_CASE("a sample rate that is no number counts as not known")
{
    Rig rig(48000.0);
    rig.processor->prepareToPlay(std::numeric_limits<double>::quiet_NaN(), 512);
    rig.play(0.2, -20.0);
    CHECK(rig.view().sampleRate_Hz == 0.0);
    CHECK_FALSE(rig.measured_dB());
    CHECK_FALSE(rig.view().reading.tone.whyNoLevel.empty());
}

TEST_CASE("without a coupler, and with one that has no reference, the reading is dBFS and says why")
{
    Rig rig;
    rig.play(1.5, -20.0);
    CHECK_FALSE(rig.view().reading.referenced);
    CHECK(rig.view().reference == ReferenceState::noCoupler);

    Coupler bare;
    bare.name = "no reference yet";
    rig.processor->putInSlot(4, std::optional(bare));
    rig.set(ParameterId::couplerSlot, 4);
    CHECK_FALSE(rig.view().reading.referenced);
    CHECK(rig.view().reference == ReferenceState::none);
    CHECK(*rig.measured_dB() == Approx(-20.0).margin(0.001));
    REQUIRE_FALSE(rig.view().reading.notes.empty());
    CHECK(rig.view().reading.notes.front().find("has no reference") != std::string::npos);
    CHECK(*rig.view().weighted_dB < 0.0);
}

TEST_CASE("the coupler's slot is a parameter and the reading follows it")
{
    Rig rig;
    for (int slot = 1; slot <= 16; ++slot)
        rig.processor->putInSlot(slot,
                                 std::optional(referencedCoupler("coupler " + std::to_string(slot), 100.0 + slot)));
    rig.play(1.5, -20.0);
    for (const int slot : {1, 7, 16}) {
        rig.set(ParameterId::couplerSlot, slot);
        CHECK(rig.view().reading.coupler == "coupler " + std::to_string(slot));
        CHECK(*rig.measured_dB() == Approx(80.0 + slot).margin(0.001));
        CHECK(rig.view().couplerSlot == slot);
        CHECK(rig.view().reference == ReferenceState::fresh);
        CHECK(rig.view().slotNames[static_cast<std::size_t>(slot - 1)] == rig.view().reading.coupler);
    }
    rig.processor->putInSlot(9, std::optional<Coupler>());
    rig.set(ParameterId::couplerSlot, 9);
    CHECK_FALSE(rig.view().reading.referenced);
    CHECK(rig.view().couplerNotice.find("no coupler in slot 9") != std::string::npos);
}

TEST_CASE("slot 0 is the coupler chosen by hand, from beyond the slots")
{
    Rig rig;
    rig.play(1.5, -20.0);
    rig.set(ParameterId::couplerSlot, 3);
    rig.processor->chooseCouplerByHand(referencedCoupler("by hand", 121.0));
    rig.settle();
    CHECK(rig.view().couplerSlot == 0);
    CHECK(rig.view().reading.coupler == "by hand");
    CHECK(*rig.measured_dB() == Approx(101.0).margin(0.001));
}

TEST_CASE("a switch during a capture waits, is said, and happens at its end")
{
    Rig rig;
    rig.processor->putInSlot(1, std::optional(referencedCoupler("first", 100.0)));
    rig.processor->putInSlot(2, std::optional(referencedCoupler("second", 110.0)));
    rig.set(ParameterId::couplerSlot, 1);
    rig.play(1.5, -20.0);
    rig.processor->capture(true);
    rig.set(ParameterId::couplerSlot, 2);
    CHECK(rig.view().reading.coupler == "first");
    CHECK(rig.view().couplerNotice.find("slot 2 waits") != std::string::npos);
    rig.processor->capture(false);
    rig.settle();
    CHECK(rig.view().reading.coupler == "second");
    CHECK(rig.view().couplerNotice.empty());
}

TEST_CASE("a stale reference still reads, and is marked")
{
    Rig rig;
    auto old = referencedCoupler("old", 100.0);
    old.references[0].takenAt = "2020-01-01T00:00:00Z";
    rig.processor->putInSlot(1, std::optional(old));
    rig.set(ParameterId::couplerSlot, 1);
    rig.play(1.5, -20.0);
    CHECK(rig.view().reference == ReferenceState::stale);
    CHECK(*rig.measured_dB() == Approx(80.0).margin(0.001));
}

TEST_CASE("the microphone may be on the second channel, and the drive is sensed beside it")
{
    Rig rig;
    Earphone earphone;
    earphone.name = "an earphone";
    earphone.rating.level_dB = 110.0;
    earphone.rating.frequency = Hertz(1000.0);
    earphone.rating.tolerance_dB = 1.0;
    rig.processor->putInSlot(1, std::optional(referencedCoupler("coupler", 115.0)));
    rig.processor->putInSlot(1, std::optional(earphone));
    rig.set(ParameterId::couplerSlot, 1);
    rig.set(ParameterId::earphoneSlot, 1);
    rig.set(ParameterId::microphoneChannel, 2);
    rig.set(ParameterId::secondChannel, 1);
    rig.play(1.5, -26.0, -30.0);
    CHECK(*rig.measured_dB() == Approx(85.0).margin(0.001));
    CHECK_FALSE(rig.view().reading.expected);
    CHECK(rig.view().driveText == "drive: in 1, full scale not known");

    rig.set(ParameterId::driveFullScale, 2.0);
    rig.set(ParameterId::meterAccuracy, 0.5);
    REQUIRE(rig.view().reading.expected);
    // 2 V full scale at -26 dBFS is 100.24 mV, so 110 dB for 1 V comes to 90.02 dB
    CHECK(rig.view().reading.drive->voltage.value == Approx(2.0 * ratioFrom_dB(-26.0)).epsilon(1e-5));
    CHECK(rig.view().reading.expected->level_dB == Approx(110.0 + decibels(2.0) - 26.0).margin(0.001));
    CHECK(rig.view().driveText == "drive: in 1");
    CHECK(rig.view().microphoneText == "mic: in 2");
}

TEST_CASE("a typed drive is the decimal that was typed")
{
    Rig rig;
    rig.processor->setDrive(Volts(0.1232));
    rig.play(1.5, -20.0);
    REQUIRE(rig.view().reading.drive);
    CHECK(rig.view().reading.drive->voltage.value == Approx(0.1232).epsilon(1e-12));
    CHECK(rig.view().driveText == "drive: typed");
}

TEST_CASE("a second coupler's microphone has a reading of its own")
{
    Rig rig;
    rig.processor->putInSlot(1, std::optional(referencedCoupler("left ear", 100.0)));
    rig.processor->putInSlot(2, std::optional(referencedCoupler("right ear", 110.0)));
    rig.set(ParameterId::couplerSlot, 1);
    rig.set(ParameterId::secondCouplerSlot, 2);
    rig.set(ParameterId::secondChannel, 2);
    rig.play(1.5, -20.0, -25.0);
    CHECK(*rig.measured_dB() == Approx(80.0).margin(0.001));
    REQUIRE(rig.view().second);
    REQUIRE(rig.view().second->measured);
    CHECK(rig.view().second->coupler == "right ear");
    CHECK(rig.view().second->measured->level_dB == Approx(85.0).margin(0.001));
}

TEST_CASE("a channel that is not there is named")
{
    Rig rig(48000.0, 1);
    rig.set(ParameterId::microphoneChannel, 2);
    rig.play(1.5, -20.0);
    CHECK_FALSE(rig.measured_dB());
    CHECK(rig.view().reading.tone.whyNoLevel.find("no input channel 2") != std::string::npos);
}

TEST_CASE("held numbers stand still, and live ones come back")
{
    Rig rig;
    rig.play(1.5, -20.0);
    rig.processor->setHold(true);
    rig.play(2.0, -30.0);
    CHECK(rig.view().hold);
    CHECK(*rig.measured_dB() == Approx(-20.0).margin(0.001));
    rig.processor->setHold(false);
    rig.settle();
    CHECK(*rig.measured_dB() == Approx(-30.0).margin(0.001));
}

TEST_CASE("weighted levels and their extremes count from the start, and anew when reset")
{
    Rig rig;
    rig.play(2.0, -10.0);
    rig.play(2.0, -30.0);
    CHECK(*rig.view().weighted_dB == Approx(-30.0).margin(0.01));
    CHECK(*rig.view().weightedMax_dB == Approx(-10.0).margin(0.01));
    rig.processor->resetExtremes();
    rig.play(0.1, -30.0); // and the tone reads on meanwhile
    CHECK(*rig.measured_dB() == Approx(-30.0).margin(0.001));
    rig.play(2.0, -30.0);
    CHECK(*rig.view().weightedMax_dB == Approx(-30.0).margin(0.01));
    CHECK(*rig.view().weightedMin_dB == Approx(-30.0).margin(0.01));
    // A weighting at 1 kHz takes nothing, at 100 Hz 19.1 dB (IEC 61672-1:2013 Table 3).
    rig.processor->setWeighting(FrequencyWeighting::A);
    rig.play(2.0, -30.0, -200.0, 100.0);
    CHECK(*rig.view().weighted_dB == Approx(-49.1).margin(0.1));
}

TEST_CASE("in digital silence a weighted level ends at nothing, and so does its minimum")
{
    Rig rig(8000.0);
    rig.play(1.0, -10.0);
    CHECK(rig.view().weightedMin_dB);
    juce::AudioBuffer<float> silence(2, 8000);
    silence.clear();
    juce::MidiBuffer midi;
    for (int s = 0; s < 90; ++s) {
        rig.processor->processBlock(silence, midi);
        rig.processor->tick();
    }
    for (const auto time : {TimeWeighting::fast, TimeWeighting::slow}) {
        rig.processor->setTimeWeighting(time);
        rig.settle();
        CHECK_FALSE(rig.view().weighted_dB);
        CHECK_FALSE(rig.view().weightedMin_dB);
        CHECK(rig.view().weightedMax_dB);
    }
}

TEST_CASE("when no audio has come for a second, the last number is not shown as if it were live")
{
    Rig rig;
    rig.play(1.5, -20.0);
    REQUIRE(rig.view().audioRuns);
    juce::Thread::sleep(1100);
    rig.settle();
    CHECK_FALSE(rig.view().audioRuns);
    CHECK_FALSE(rig.measured_dB());
    rig.play(1.0, -20.0);
    CHECK(*rig.measured_dB() == Approx(-20.0).margin(0.001));
}

TEST_CASE("another sampling rate than the reference's is said, and the number is back within one window")
{
    Rig rig;
    rig.processor->putInSlot(1, std::optional(referencedCoupler("first", 100.0)));
    rig.set(ParameterId::couplerSlot, 1);
    const auto said = [&] {
        const auto& notes = rig.view().reading.notes;
        return std::any_of(notes.begin(), notes.end(), [](const auto& note) {
            return note.find("the reference was taken at 48000 Hz sampling, this at 96000 Hz") != std::string::npos;
        });
    };
    rig.play(1.5, -20.0);
    CHECK_FALSE(said());
    rig.processor->prepareToPlay(96000.0, 512);
    rig.play(3.0, -20.0); // the rig's second lasts half of one at this rate
    REQUIRE(rig.measured_dB());
    CHECK(*rig.measured_dB() == Approx(80.0).margin(0.01));
    CHECK(said());
}

TEST_CASE("blocks twice as long as announced, and a host that renders offline, read as others do")
{
    Rig rig(48000.0, 2, 512);
    rig.processor->setNonRealtime(true);
    rig.play(1.5, -20.0, -200.0, 1000.0, 1024);
    REQUIRE(rig.measured_dB());
    CHECK(*rig.measured_dB() == Approx(-20.0).margin(0.001));
    CHECK(rig.view().offline);
    rig.processor->setNonRealtime(false);
    rig.play(0.1, -20.0);
    CHECK_FALSE(rig.view().offline);
}
