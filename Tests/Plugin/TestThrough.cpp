// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Rig.h"

#include <catch2/catch.hpp>

#include <cstring>

using namespace couplet;
using namespace couplet::tests;

namespace {

// Noise with what else floats can be: infinities, not-a-numbers, denormals, negative zero.
juce::AudioBuffer<float> anything(int channels, int samples, int seed)
{
    juce::Random random(seed);
    juce::AudioBuffer<float> buffer(channels, samples);
    for (int c = 0; c < channels; ++c)
        for (int i = 0; i < samples; ++i)
            buffer.setSample(c, i, random.nextFloat() * 2.0f - 1.0f);
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

void checkThrough(Rig& rig, int channels, int samples)
{
    juce::MidiBuffer midi;
    for (int round = 0; round < 20; ++round) {
        auto buffer = anything(channels, samples, round);
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

TEST_CASE("no setting touches the audio, the simulated bench neither")
{
    for (std::size_t i = 0; i < parameterCount; ++i) {
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

TEST_CASE("a rising loop mutes the plugin's output until it is unmuted, and the view says so")
{
    Rig rig;
    rig.play(0.5, -40.0);
    for (double level = -30.0; level < -6.0; level += 2.0)
        rig.play(0.05, level, -200.0, 1000.0, 2400);
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
