// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/ClosedLoop.h"
#include "Plugin/Rig.h"

#include <catch2/catch.hpp>

#include <cstring>

using namespace couplet;
using namespace couplet::tests;

namespace {

// Noise, quieter than what the loop guard asks, with what else floats can be: infinities, not-a-numbers, denormals, negative zero.
juce::AudioBuffer<float> anything(int channels, int samples, int seed, float loud = 0.2f)
{
    juce::Random random(seed);
    juce::AudioBuffer<float> buffer(channels, samples);
    for (int c = 0; c < channels; ++c)
        for (int i = 0; i < samples; ++i)
            buffer.setSample(c, i, loud * (random.nextFloat() * 2.0f - 1.0f));
    if (samples >= 8) {
        buffer.setSample(0, 1, std::numeric_limits<float>::infinity());
        buffer.setSample(0, 2, std::numeric_limits<float>::quiet_NaN());
        buffer.setSample(0, 3, std::numeric_limits<float>::denorm_min());
        buffer.setSample(0, 4, -0.0f);
        buffer.setSample(0, 5, 3.5f);
    }
    return buffer;
}

bool sameBits(const juce::AudioBuffer<float>& a, const juce::AudioBuffer<float>& b)
{
    for (int c = 0; c < a.getNumChannels(); ++c)
        if (std::memcmp(a.getReadPointer(c), b.getReadPointer(c),
                        sizeof(float) * static_cast<std::size_t>(a.getNumSamples())) != 0)
            return false;
    return true;
}

// A loop is closed around it; true when its output fell silent.
bool howls(Rig& rig, double seconds)
{
    ClosedLoop loop(480);
    juce::AudioBuffer<float> buffer(2, 480);
    juce::MidiBuffer midi;
    for (int n = 0; n < static_cast<int>(100.0 * seconds); ++n) {
        loop.hear(buffer.getWritePointer(0));
        buffer.copyFrom(1, 0, buffer, 0, 0, 480);
        rig.processor->processBlock(buffer, midi);
        loop.play(buffer.getReadPointer(0));
    }
    rig.settle();
    return buffer.getMagnitude(0, 480) == 0.0f;
}

void checkThrough(Rig& rig, int channels, int samples, float loud = 0.2f)
{
    juce::MidiBuffer midi;
    for (int round = 0; round < 20; ++round) {
        auto buffer = anything(channels, samples, round, loud);
        const juce::AudioBuffer<float> before(buffer);
        rig.processor->processBlock(buffer, midi);
        REQUIRE(sameBits(before, buffer));
    }
}

} // namespace

TEST_CASE("audio goes through bit for bit at any block size, larger than prepared ones too")
{
    for (const int channels : {1, 2})
        for (const int samples : {0, 1, 31, 64, 512, 1024, 8192}) {
            Rig rig(48000.0, channels, 512);
            CAPTURE(channels, samples);
            checkThrough(rig, channels, samples);
        }
}

TEST_CASE("audio goes through bit for bit at any rate, and where nothing can be measured")
{
    for (const double rate : {0.0, 4000.0, 8000.0, 44100.0, 96000.0, 384000.0, 768000.0}) {
        Rig rig(rate);
        CAPTURE(rate);
        checkThrough(rig, 2, 512);
    }
}

TEST_CASE("no other setting than 'Pass the input on' touches the audio, the simulated bench neither")
{
    for (std::size_t i = 0; i < parameterCount; ++i) {
        if (static_cast<ParameterId>(i) == ParameterId::passInput)
            continue;
        const auto& line = parameterLines()[i];
        for (const double value : {line.low, line.high}) {
            Rig rig;
            rig.set(static_cast<ParameterId>(i), value);
            CAPTURE(line.id, value);
            checkThrough(rig, 2, 512);
        }
    }
}

TEST_CASE("there is no latency, and a bypass changes nothing")
{
    Rig rig;
    CHECK(rig.processor->getLatencySamples() == 0);
    auto buffer = anything(2, 512, 1);
    const juce::AudioBuffer<float> before(buffer);
    juce::MidiBuffer midi;
    rig.processor->processBlockBypassed(buffer, midi);
    CHECK(sameBits(before, buffer));
}

TEST_CASE("mono and stereo are offered, in as out, and nothing else")
{
    const Processor processor;
    const auto offers = [&](const juce::AudioChannelSet& in, const juce::AudioChannelSet& out) {
        juce::AudioProcessor::BusesLayout layout;
        layout.inputBuses.add(in);
        layout.outputBuses.add(out);
        return processor.isBusesLayoutSupported(layout);
    };
    const auto mono = juce::AudioChannelSet::mono(), stereo = juce::AudioChannelSet::stereo();
    CHECK(offers(mono, mono));
    CHECK(offers(stereo, stereo));
    CHECK_FALSE(offers(mono, stereo));
    CHECK_FALSE(offers(stereo, mono));
    CHECK_FALSE(offers(juce::AudioChannelSet::create5point1(), juce::AudioChannelSet::create5point1()));
    CHECK_FALSE(offers(juce::AudioChannelSet::disabled(), juce::AudioChannelSet::disabled()));
}

TEST_CASE("the standalone passes nothing through, and measures")
{
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Standalone);
    Rig rig;
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Undefined);
    REQUIRE(rig.processor->wrapperType == juce::AudioProcessor::wrapperType_Standalone);
    auto buffer = anything(2, 512, 1);
    juce::MidiBuffer midi;
    rig.processor->processBlock(buffer, midi);
    CHECK(sameBits(buffer, [] {
        juce::AudioBuffer<float> silence(2, 512);
        silence.clear();
        return silence;
    }()));
    rig.play(2.0, -20.0);
    REQUIRE(rig.measured_dB());
    CHECK(*rig.measured_dB() == Approx(-20.0).margin(0.001));
}

TEST_CASE("without the guard, and offline, the loudest goes through bit for bit")
{
    Rig rig;
    rig.set(ParameterId::passInput, static_cast<double>(PassInput::unguarded));
    checkThrough(rig, 2, 8192, 1.0f);
    rig.set(ParameterId::passInput, static_cast<double>(PassInput::guarded));
    rig.processor->setNonRealtime(true);
    checkThrough(rig, 2, 8192, 1.0f);
    CHECK(!howls(rig, 3.0)); // what is played to it while it renders is no loop
}

TEST_CASE("where nothing is passed on the output is silent, and all is measured")
{
    Rig rig;
    rig.set(ParameterId::passInput, static_cast<double>(PassInput::notAtAll));
    auto buffer = anything(2, 512, 1);
    juce::MidiBuffer midi;
    rig.processor->processBlock(buffer, midi);
    for (int c = 0; c < 2; ++c)
        for (int i = 0; i < 512; ++i)
            REQUIRE(buffer.getSample(c, i) == 0.0f);
    rig.play(2.0, -20.0);
    REQUIRE(rig.measured_dB());
    CHECK(*rig.measured_dB() == Approx(-20.0).margin(0.001));
    CHECK(rig.view().passInput == PassInput::notAtAll);
    CHECK_FALSE(rig.view().loopMuted);
}

TEST_CASE("what the guard does to the output is not in what is measured")
{
    Rig asked, unasked;
    unasked.set(ParameterId::passInput, static_cast<double>(PassInput::unguarded));
    for (Rig* rig : {&asked, &unasked})
        rig->play(3.0, -3.0);
    REQUIRE(asked.measured_dB());
    CHECK(*asked.measured_dB() == *unasked.measured_dB());
    CHECK(asked.view().reading.tone.clippedSamples == unasked.view().reading.tone.clippedSamples);
}

TEST_CASE("a loop mutes the plugin's output until it is unmuted, and the view says so")
{
    Rig rig;
    REQUIRE(howls(rig, 5.0));
    CHECK(rig.view().loopMuted);
    auto buffer = anything(2, 512, 1);
    juce::MidiBuffer midi;
    rig.processor->processBlock(buffer, midi);
    CHECK(buffer.getMagnitude(0, 512) == 0.0f);

    rig.processor->prepareToPlay(48000.0, 512); // a host that starts anew does not open the loop again
    rig.play(0.2, -60.0);
    CHECK(rig.view().loopMuted);
    rig.processor->unmuteLoop();
    rig.play(0.2, -60.0);
    CHECK_FALSE(rig.view().loopMuted);
    checkThrough(rig, 2, 512);
}
