// SPDX-License-Identifier: GPL-3.0-or-later
#include "HostSpeed.h"

#include "OnMessageThread.h"
#include "Speed/Targets.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <ctime>
#include <memory>
#include <unistd.h>
#include <vector>

namespace couplet::hosts {
namespace {

constexpr double rate_Hz = 48000.0;
constexpr int runs = 40;
constexpr int framesInRun = 16384;
constexpr std::array blocks{16, 64, 256, 1024};
constexpr int largestBlock = 1024;
constexpr int instancesAtOnce = 64;

double now_s(clockid_t clock)
{
    timespec t{};
    ::clock_gettime(clock, &t);
    return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

double residentBytes()
{
    const auto words = juce::StringArray::fromTokens(juce::File("/proc/self/statm").loadFileAsString(), false);
    return static_cast<double>(words[1].getLargeIntValue()) * static_cast<double>(::sysconf(_SC_PAGESIZE));
}

using Instance = std::unique_ptr<juce::AudioPluginInstance>;

class Maker
{
public:
    explicit Maker(const juce::FileSearchPath& folders)
    {
        onMessageThread([&] { format.searchPathsForPlugins(folders, false); });
    }

    Instance make(const juce::String& uri)
    {
        Instance made;
        onMessageThread([&] {
            juce::OwnedArray<juce::PluginDescription> types;
            format.findAllTypesForFile(types, uri);
            juce::String problem = "it is not there";
            if (!types.isEmpty())
                made = format.createInstanceFromDescription(*types[0], rate_Hz, largestBlock, problem);
            if (made == nullptr)
                fmt::print(stderr, "no plugin {}: {}\n", uri.toStdString(), problem.toStdString());
            else
                made->prepareToPlay(rate_Hz, largestBlock);
        });
        return made;
    }

private:
    juce::LV2PluginFormat format;
};

// A tone with a little noise, as a bench gives it.
class Sound
{
public:
    Sound()
    {
        juce::Random random(1);
        for (int i = 0; i < framesInRun; ++i) {
            const double phase = juce::MathConstants<double>::twoPi * 1000.04 / rate_Hz * i;
            samples[static_cast<std::size_t>(i)] =
                static_cast<float>(0.1 * std::sin(phase)) + 1e-4f * random.nextFloat();
        }
    }
    // Through a plugin once; s of the processor.
    double through(juce::AudioPluginInstance& plugin, int block)
    {
        const int channels = std::max(plugin.getTotalNumInputChannels(), plugin.getTotalNumOutputChannels());
        juce::AudioBuffer<float> buffer(channels, block);
        juce::MidiBuffer midi;
        const double start = now_s(CLOCK_THREAD_CPUTIME_ID);
        for (int from = 0; from + block <= framesInRun; from += block) {
            for (int c = 0; c < channels; ++c)
                buffer.copyFrom(c, 0, samples.data() + from, block);
            plugin.processBlock(buffer, midi);
        }
        return now_s(CLOCK_THREAD_CPUTIME_ID) - start;
    }

private:
    std::array<float, framesInRun> samples{};
};

struct Line
{
    const char* name;
    const char* uri;
    float second = 0.0f; // Couplet's second channel, as a share of its parameter's way
    Instance plugin{};
    std::array<double, blocks.size()> ns{}; // a frame
};

constexpr const char* couplet_uri = JucePlugin_LV2URI;
constexpr const char* by = "In a host, below";

void printRow(const std::string& name, const Line& line, const Line& empty)
{
    std::array<double, blocks.size()> above{};
    for (std::size_t b = 0; b < blocks.size(); ++b)
        above[b] = line.ns[b] - empty.ns[b];
    fmt::print("| {} | {:.1f} | {:.1f} | {:.1f} | {:.1f} | {:.2f} | {:.2f} % |\n", name, above[0], above[1], above[2],
               above[3], above[0] / above[3], 1e-7 * above[3] * rate_Hz);
}

// At whatever length of block.
double mostAbove_ns(const Line& line, const Line& empty)
{
    double most = 0.0;
    for (std::size_t b = 0; b < blocks.size(); ++b)
        most = targets::larger(most, line.ns[b] - empty.ns[b]);
    return most;
}

void noteTargets(const Line& one, const Line& two, const Line& empty, const Line& emptyOfJuce)
{
    targets::reached(targets::inHost, mostAbove_ns(one, empty), by);
    targets::reached(targets::inHostTwo, mostAbove_ns(two, empty), by);
    targets::reached(targets::blocksInHost,
                     (one.ns.front() - emptyOfJuce.ns.front()) / (one.ns.back() - emptyOfJuce.ns.back()), by);
}

bool setSecondChannel(juce::AudioPluginInstance& plugin, float share)
{
    for (auto* parameter : plugin.getParameters())
        if (parameter->getName(100) == "Second channel") {
            parameter->setValueNotifyingHost(share);
            return true;
        }
    return false;
}

} // namespace

bool printHostsTable(const juce::FileSearchPath& folders)
{
    Maker maker(folders);
    Sound sound;
    std::vector<Line> lines;
    lines.push_back({"empty plugin, stereo", "https://couplet.example.org/lv2/empty"});
    lines.push_back(
        {"empty plugin of JUCE's, with as many parameters", "https://couplet.example.org/lv2/empty-of-juce"});
    lines.push_back({"example amplifier (`eg-amp`), mono", "http://lv2plug.in/plugins/eg-amp"});
    lines.push_back({"compressor (`a-comp`), stereo", "urn:ardour:a-comp#stereo"});
    lines.push_back({"reverb (`a-reverb`), stereo", "urn:ardour:a-reverb"});
    lines.push_back({"**Couplet, one microphone**", couplet_uri, 0.0f});
    lines.push_back({"**Couplet, microphone and drive**", couplet_uri, 0.5f});
    lines.push_back({"**Couplet, two microphones**", couplet_uri, 1.0f});
    bool whole = true;
    for (Line& line : lines) {
        line.plugin = maker.make(line.uri);
        line.ns.fill(1e9);
        whole =
            whole && line.plugin != nullptr && (line.uri != couplet_uri || setSecondChannel(*line.plugin, line.second));
    }
    // In turn, so that whatever else the computer does meets all of them.
    for (int run = -4; whole && run < runs; ++run) // the first ones find the tone
        for (Line& line : lines)
            for (std::size_t b = 0; b < blocks.size(); ++b) {
                const double ns = 1e9 * sound.through(*line.plugin, blocks[b]) / framesInRun;
                if (run >= 0)
                    line.ns[b] = std::min(line.ns[b], ns);
            }
    if (whole) {
        fmt::print("| ns a frame above the empty plugin | 16 | 64 | 256 | 1024 | 16 to 1024 | of a core |\n"
                   "|---|---|---|---|---|---|---|\n");
        const Line &empty = lines[0], &emptyOfJuce = lines[1];
        fmt::print("| {} itself, in this host | {:.1f} | {:.1f} | {:.1f} | {:.1f} | | |\n", empty.name, empty.ns[0],
                   empty.ns[1], empty.ns[2], empty.ns[3]);
        for (auto line = lines.begin() + 1; line != lines.end(); ++line)
            printRow(line->name, *line, empty);
        for (auto line = lines.end() - 3; line != lines.end(); ++line)
            printRow(fmt::format("{}, above JUCE's empty one", line->name), *line, emptyOfJuce);
        noteTargets(lines[lines.size() - 3], lines.back(), empty, emptyOfJuce);
    }
    onMessageThread([&] { lines.clear(); });
    return whole;
}

bool printInstancesTable(const juce::FileSearchPath& folders)
{
    Maker maker(folders);
    Sound sound;
    std::vector<Instance> all;
    all.push_back(maker.make(couplet_uri)); // what all share is loaded with the first
    if (all.front() == nullptr)
        return false;
    sound.through(*all.front(), 512);
    const double before = residentBytes();
    for (int i = 1; i <= instancesAtOnce; ++i)
        all.push_back(maker.make(couplet_uri));
    std::array<double, 2> least{1e9, 1e9};
    constexpr std::array lengths{64, 512};
    for (int run = 0; run < 8; ++run)
        for (std::size_t b = 0; b < lengths.size(); ++b) {
            double used_s = 0.0;
            for (int i = 1; i <= instancesAtOnce; ++i)
                used_s += sound.through(*all[static_cast<std::size_t>(i)], lengths[b]);
            if (run > 1)
                least[b] = std::min(least[b], used_s);
        }
    const double each = (residentBytes() - before) / instancesAtOnce;
    // In real time, everything that the process does: the message thread makes readings meanwhile.
    constexpr int pieces = 9;
    const double cpu = now_s(CLOCK_PROCESS_CPUTIME_ID), start = now_s(CLOCK_MONOTONIC);
    for (int piece = 1; piece <= pieces; ++piece) {
        for (int i = 1; i <= instancesAtOnce; ++i)
            sound.through(*all[static_cast<std::size_t>(i)], 512);
        const double due_s = start + piece * framesInRun / rate_Hz - now_s(CLOCK_MONOTONIC);
        if (due_s > 0.0)
            juce::Thread::sleep(static_cast<int>(1e3 * due_s));
    }
    const double wall = now_s(CLOCK_MONOTONIC) - start, everything = (now_s(CLOCK_PROCESS_CPUTIME_ID) - cpu) / wall;

    const double audio_s = framesInRun / rate_Hz;
    fmt::print("| {} instances, one microphone each, no window open | |\n|---|---|\n", instancesAtOnce);
    fmt::print("| audio thread, blocks of 64 | {:.1f} % of a core |\n", 100.0 * least[0] / audio_s);
    fmt::print("| audio thread, blocks of 512 | {:.1f} % of a core |\n", 100.0 * least[1] / audio_s);
    targets::reached(targets::instances, 100.0 * targets::larger(least[0], least[1]) / audio_s, by);
    fmt::print("| everything, message thread and host included, in real time | {:.1f} % of a core |\n",
               100.0 * everything);
    fmt::print("| memory of each | {:.1f} MB |\n", each / 1e6);
    onMessageThread([&] { all.clear(); });
    return true;
}

} // namespace couplet::hosts
