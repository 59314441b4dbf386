// SPDX-License-Identifier: GPL-3.0-or-later
//
// A plugin of JUCE's that does nothing, with as many parameters as Couplet has: what the wrapper costs.
#include "Bench/ParameterList.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace {

class Empty final : public juce::AudioProcessor
{
public:
    Empty()
        : AudioProcessor(BusesProperties()
                             .withInput("In", juce::AudioChannelSet::stereo())
                             .withOutput("Out", juce::AudioChannelSet::stereo()))
    {
        for (const couplet::ParameterLine& line : couplet::parameterLines())
            addParameter(new juce::AudioParameterFloat({line.id, 1}, line.name,
                                                       {static_cast<float>(line.low), static_cast<float>(line.high)},
                                                       static_cast<float>(line.initial)));
    }

    const juce::String getName() const override { return "Empty"; }
    void prepareToPlay(double, int) override {}
    void releaseResources() override {}
    void processBlock(juce::AudioBuffer<float>&, juce::MidiBuffer&) override {}
    double getTailLengthSeconds() const override { return 0.0; }
    bool acceptsMidi() const override { return false; }
    bool producesMidi() const override { return false; }
    juce::AudioProcessorEditor* createEditor() override { return nullptr; }
    bool hasEditor() const override { return false; }
    int getNumPrograms() override { return 1; }
    int getCurrentProgram() override { return 0; }
    void setCurrentProgram(int) override {}
    const juce::String getProgramName(int) override { return {}; }
    void changeProgramName(int, const juce::String&) override {}
    void getStateInformation(juce::MemoryBlock&) override {}
    void setStateInformation(const void*, int) override {}
};

} // namespace

juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter()
{
    return new Empty;
}
