// SPDX-License-Identifier: GPL-3.0-or-later
//
// A host without a display, for scripts: couplet_host lv2|vst3 BUNDLE. It reads one order a line and answers each with
// one line, 'ok ...' or 'no ...':
//   make N                    N instances at 48 kHz, blocks of 512
//   set I NAME=SHARE          a parameter by its name, 0 to 1 of its way
//   play SECONDS LEVEL...     in real time, a sine of 1 kHz for each instance, dBFS
//   through                   noise through the first instance: is it the same, bit for bit?
//   save I FILE, load I FILE  state
// Or couplet_host speed hosts|instances FOLDER...: a table of what plugins in these folders cost.
// Plugins live on the message thread, which is the main one; orders are read and audio is made on another.
#include "HostSpeed.h"
#include "OnMessageThread.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <cmath>
#include <cstring>
#include <iostream>
#include <thread>

namespace {

constexpr double rate_Hz = 48000.0;
constexpr int blockSize = 512;

using couplet::hosts::onMessageThread;

class Host
{
public:
    Host(std::unique_ptr<juce::AudioPluginFormat> f, const juce::String& b) : format(std::move(f)), bundle(b) {}

    juce::String obey(const juce::String& line)
    {
        const auto words = juce::StringArray::fromTokens(line, " ", "\"");
        const auto order = words[0];
        if (order == "make")
            return make(words[1].getIntValue());
        if (order == "through")
            return through(words[1].getFloatValue());
        if (order == "play")
            return play(words);
        const int index = words[1].getIntValue();
        if (index < 0 || index >= instances.size())
            return "no such instance";
        if (order == "set")
            return set(*instances[index], line.fromFirstOccurrenceOf(words[1] + " ", false, false));
        const juce::File file(words[2]);
        if (order == "save")
            return save(*instances[index], file);
        if (order == "load")
            return load(*instances[index], file);
        return "no such order";
    }

    void end()
    {
        onMessageThread([this] { instances.clear(); });
    }

private:
    juce::String make(int count)
    {
        juce::String problem;
        onMessageThread([&] {
            instances.clear();
            juce::OwnedArray<juce::PluginDescription> types;
            format->findAllTypesForFile(types, bundle);
            if (types.isEmpty()) {
                problem = "no plugin in " + bundle;
                return;
            }
            for (int i = 0; i < count && problem.isEmpty(); ++i) {
                instances.add(format->createInstanceFromDescription(*types[0], rate_Hz, blockSize, problem).release());
                if (instances.getLast() != nullptr)
                    instances.getLast()->prepareToPlay(rate_Hz, blockSize);
            }
        });
        if (problem.isNotEmpty())
            return "no " + problem;
        auto& first = *instances[0];
        return "ok " + first.getName() + " in=" + juce::String(first.getTotalNumInputChannels()) +
               " out=" + juce::String(first.getTotalNumOutputChannels()) +
               " latency=" + juce::String(first.getLatencySamples());
    }

    static juce::String set(juce::AudioPluginInstance& plugin, const juce::String& assignment)
    {
        const auto name = assignment.upToFirstOccurrenceOf("=", false, false);
        for (auto* parameter : plugin.getParameters())
            if (parameter->getName(100) == name) {
                parameter->setValueNotifyingHost(assignment.fromFirstOccurrenceOf("=", false, false).getFloatValue());
                return "ok";
            }
        return "no parameter '" + name + "'";
    }

    juce::String play(const juce::StringArray& words)
    {
        juce::AudioBuffer<float> buffer(2, blockSize);
        juce::MidiBuffer midi;
        const auto start = juce::Time::getMillisecondCounterHiRes();
        const int blocks = static_cast<int>(words[1].getDoubleValue() * rate_Hz / blockSize);
        for (int n = 0; n < blocks; ++n) {
            for (int i = 0; i < instances.size(); ++i) {
                const double amplitude = std::pow(10.0, words[2 + i].getDoubleValue() / 20.0);
                for (int s = 0; s < blockSize; ++s) {
                    const double phase = juce::MathConstants<double>::twoPi * 1000.0 / rate_Hz * (played + s);
                    const auto sample = static_cast<float>(amplitude * std::sin(phase));
                    buffer.setSample(0, s, sample);
                    buffer.setSample(1, s, sample);
                }
                instances[i]->processBlock(buffer, midi);
            }
            played += blockSize;
            const auto due = start + 1000.0 * (n + 1) * blockSize / rate_Hz;
            if (const auto ahead = due - juce::Time::getMillisecondCounterHiRes(); ahead > 1.0)
                juce::Thread::sleep(static_cast<int>(ahead));
        }
        return "ok";
    }

    juce::String through(float peak)
    {
        juce::Random random(1);
        juce::MidiBuffer midi;
        for (int n = 0; n < 200; ++n) {
            juce::AudioBuffer<float> buffer(2, 1 + n * 2);
            for (int c = 0; c < 2; ++c)
                for (int s = 0; s < buffer.getNumSamples(); ++s)
                    buffer.setSample(c, s, peak * (random.nextFloat() * 2.0f - 1.0f));
            const juce::AudioBuffer<float> before(buffer);
            instances[0]->processBlock(buffer, midi);
            for (int c = 0; c < 2; ++c)
                if (std::memcmp(before.getReadPointer(c), buffer.getReadPointer(c),
                                sizeof(float) * static_cast<std::size_t>(buffer.getNumSamples())) != 0)
                    return "no block " + juce::String(n) + " came out changed";
        }
        return "ok";
    }

    static juce::String save(juce::AudioPluginInstance& plugin, const juce::File& file)
    {
        juce::MemoryBlock block;
        plugin.getStateInformation(block);
        return file.replaceWithData(block.getData(), block.getSize()) ? "ok" : "no writing";
    }

    static juce::String load(juce::AudioPluginInstance& plugin, const juce::File& file)
    {
        juce::MemoryBlock block;
        if (!file.loadFileAsData(block))
            return "no reading";
        plugin.setStateInformation(block.getData(), static_cast<int>(block.getSize()));
        return "ok";
    }

    std::unique_ptr<juce::AudioPluginFormat> format;
    juce::String bundle;
    juce::OwnedArray<juce::AudioPluginInstance> instances;
    double played = 0.0;
};

std::unique_ptr<juce::AudioPluginFormat> formatFor(const juce::String& name, juce::String& bundle)
{
    if (name == "vst3")
        return std::make_unique<juce::VST3PluginFormat>();
    auto lv2 = std::make_unique<juce::LV2PluginFormat>();
    lv2->searchPathsForPlugins(juce::FileSearchPath(juce::File(bundle).getParentDirectory().getFullPathName()), true);
    bundle = JucePlugin_LV2URI;
    return lv2;
}

// With the message thread at hand; its answer is the exit status.
template <class Work> int besideMessageThread(Work&& work)
{
    int status = 0;
    std::thread orders([&] {
        status = work();
        juce::MessageManager::getInstance()->stopDispatchLoop();
    });
    juce::MessageManager::getInstance()->runDispatchLoop();
    orders.join();
    return status;
}

int speed(const juce::StringArray& words)
{
    juce::FileSearchPath folders;
    for (int i = 1; i < words.size(); ++i)
        folders.add(juce::File::getCurrentWorkingDirectory().getChildFile(words[i]));
    return besideMessageThread([&] {
        const bool whole = words[0] == "instances" ? couplet::hosts::printInstancesTable(folders)
                                                   : couplet::hosts::printHostsTable(folders);
        return whole ? 0 : 1;
    });
}

} // namespace

// The processor in the shared code has its entry there as well, and no use here.
int main(int count, char** words)
{
    const bool forSpeed = count > 3 && juce::String(words[1]) == "speed";
    if (count != 3 && !forSpeed) {
        std::cerr << "couplet_host lv2|vst3 BUNDLE\ncouplet_host speed hosts|instances FOLDER...\n";
        return 2;
    }
    const juce::ScopedJuceInitialiser_GUI juceIsUp;
    if (forSpeed)
        return speed(juce::StringArray(words + 2, count - 2));
    juce::String bundle(words[2]);
    auto format = formatFor(words[1], bundle);
    Host host(std::move(format), bundle);
    return besideMessageThread([&] {
        for (std::string line; std::getline(std::cin, line);)
            std::cout << host.obey(line) << std::endl;
        host.end();
        return 0;
    });
}
