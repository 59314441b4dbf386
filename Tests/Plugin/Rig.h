// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/Processor.h"
#include "Quantities/Decibels.h"

#include <cmath>
#include <memory>
#include <numbers>

// Purpose: a processor as a host has it: prepared, fed with tones in blocks, its message thread ticked as the audio
//          goes by.
// Thread:  message, which plays the audio thread too.
namespace couplet::tests {

// A coupler whose only reference has this offset, U complete.
inline Coupler referencedCoupler(const std::string& name, double offset_dB)
{
    Reference reference;
    reference.takenAt = timeNow();
    reference.offset_dB = offset_dB;
    reference.addends = {{"offset", offset_dB}};
    reference.budget = {{"certificate", 0.08, infiniteDegrees, Shape::normal, "certificate"}};
    reference.calibrator = "a calibrator";
    reference.tone_dBFS = 94.0 - offset_dB;
    reference.frequency = Hertz(1000.0);
    reference.sampleRate_Hz = 48000.0;
    Coupler coupler;
    coupler.name = name;
    coupler.references = {reference};
    return coupler;
}

class Rig
{
public:
    explicit Rig(double sampleRate_Hz = 48000.0, int channelCount = 2, int largestBlock = 512)
        : channels(channelCount), rate(sampleRate_Hz)
    {
        const auto set = channels == 1 ? juce::AudioChannelSet::mono() : juce::AudioChannelSet::stereo();
        juce::AudioProcessor::BusesLayout layout;
        layout.inputBuses.add(set);
        layout.outputBuses.add(set);
        processor->setBusesLayout(layout);
        processor->setRateAndBufferSizeDetails(rate, largestBlock);
        processor->prepareToPlay(rate, largestBlock);
    }
    ~Rig() { processor->releaseResources(); }

    // A sine of these levels, dBFS, on each channel; -200 is silence.
    void play(double seconds, double first_dBFS, double second_dBFS = -200.0, double frequency_Hz = 1000.0,
              int block = 480)
    {
        juce::AudioBuffer<float> buffer(channels, block);
        juce::MidiBuffer midi;
        const double step = 2.0 * std::numbers::pi * frequency_Hz / rate;
        for (int blocks = static_cast<int>(std::ceil(seconds * rate / block)); blocks > 0; --blocks) {
            for (int i = 0; i < block; ++i) {
                const double sine = std::sin(phase);
                phase = std::fmod(phase + step, 2.0 * std::numbers::pi);
                buffer.setSample(0, i, static_cast<float>(ratioFrom_dB(first_dBFS) * sine));
                if (channels > 1)
                    buffer.setSample(1, i, static_cast<float>(ratioFrom_dB(second_dBFS) * sine));
            }
            processor->processBlock(buffer, midi);
            processor->tick();
        }
        settle();
    }

    // Until the view shows what is known.
    void settle()
    {
        for (int i = 0; i < 5; ++i)
            processor->tick();
    }

    const LiveView& view() const { return processor->view(); }
    std::optional<double> measured_dB() const
    {
        const auto& measured = view().reading.measured;
        return measured ? std::optional(measured->level_dB) : std::nullopt;
    }
    void set(ParameterId id, double value)
    {
        processor->parameters.set(id, value);
        settle();
    }

    const std::unique_ptr<Processor> processor = std::make_unique<Processor>();

private:
    int channels;
    double rate;
    double phase = 0.0;
};

} // namespace couplet::tests
