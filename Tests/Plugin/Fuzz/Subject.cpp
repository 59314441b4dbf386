// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Fuzz/Subject.h"

#include "Plugin/Fuzz/Finite.h"
#ifdef COUPLET_GUARDED
#include "Plugin/RealTimeGuard.h"
#endif
#include "Plugin/Rig.h"

#include <fmt/format.h>

#include <cstring>

namespace couplet::fuzz {
namespace {

constexpr double window_s = 1.0, extra_s = 0.5, worstAfterGarbage_dB = 0.01;
constexpr int largestEver = 16384;

bool isZero(const float* samples, int count)
{
    return std::all_of(samples, samples + count, [](float x) { return x == 0.0f; });
}

// Far from every order of both mains that could fall on it, and below what the rate can hold.
double cleanTone_Hz(Chance& chance, double rate_Hz)
{
    for (;;) {
        const double tone = chance.evenInRatio(150.0, std::min(15000.0, 0.4 * rate_Hz));
        const auto near = [&](double mains) { return std::abs(std::remainder(tone, mains)) < 4.0; };
        if (!near(50.0) && !near(60.0))
            return tone;
    }
}

} // namespace

Subject::Subject(std::uint64_t seed, Counts& c) : chance(seed), counts(c), processor(std::make_unique<Processor>())
{
    channels = chance.once(4) ? 1 : 2;
    const auto set = channels == 1 ? juce::AudioChannelSet::mono() : juce::AudioChannelSet::stereo();
    juce::AudioProcessor::BusesLayout layout;
    layout.inputBuses.add(set);
    layout.outputBuses.add(set);
    processor->setBusesLayout(layout);
    processor->putInSlot(1, std::optional(tests::referencedCoupler("first", 121.97)));
    processor->getStateInformation(kept);
}

void Subject::step()
{
    ++counts.steps;
    switch (chance.whole(0, 11)) {
    case 0:
        prepare();
        break;
    case 1:
        changeParameter();
        break;
    case 2:
        keepOrRestoreState();
        break;
    case 3:
        pressControl();
        break;
    case 4:
    case 5:
        recover();
        break;
    default:
        play();
    }
    settle();
    checkView();
}

void Subject::prepare()
{
    rate_Hz = chance.once(5)
                  ? chance.oneOf({0.0, -48000.0, 1.0, 4000.0, 7999.0, 384001.0, 768000.0, 1e12, std::nan("")})
              : chance.once(2) ? chance.oneOf({8000.0, 11025.0, 44100.0, 48000.0, 96000.0, 192000.0, 384000.0})
                               : chance.evenInRatio(8000.0, 384000.0);
    largestBlock = chance.whole(1, 4096);
    doing = fmt::format("prepare at {} Hz, blocks of {}", rate_Hz, largestBlock);
    processor->setNonRealtime(chance.once(4));
    processor->prepareToPlay(rate_Hz, largestBlock);
    twin.prepare(rate_Hz);
}

void Subject::changeParameter()
{
    const auto index = static_cast<std::size_t>(chance.whole(0, static_cast<int>(parameterCount) - 1));
    auto& parameter = processor->parameters.at(static_cast<ParameterId>(index));
    const float value = chance.once(20)  ? std::numeric_limits<float>::quiet_NaN()
                        : chance.once(5) ? static_cast<float>(chance.between(-10.0, 10.0))
                                         : static_cast<float>(chance.share());
    doing = fmt::format("set {} to {} of its way", parameterLines()[index].id, value);
    parameter.setValueNotifyingHost(value);
}

void Subject::keepOrRestoreState()
{
    juce::MemoryBlock block;
    processor->getStateInformation(block);
    if (chance.once(2)) { // what was kept before, or it with a few bytes of it damaged
        block = kept;
        const int damage = chance.once(2) ? 0 : chance.whole(1, 4);
        for (int i = 0; i < damage && block.getSize() > 0; ++i)
            block[chance.whole(0, static_cast<int>(block.getSize()) - 1)] = static_cast<char>(chance.bits());
        doing = fmt::format("restore a state with {} damaged bytes", damage);
        processor->setStateInformation(block.getData(), static_cast<int>(block.getSize()));
        return;
    }
    doing = "keep a state";
    if (processor->view().stateNotice.empty())
        kept = block;
    if (chance.once(2))
        processor->setStateInformation(kept.getData(), static_cast<int>(kept.getSize()));
}

void Subject::play()
{
    Sound sound(chance, rate_Hz);
    const double rate = rate_Hz > 100.0 && rate_Hz < 1e6 ? rate_Hz : 48000.0;
    const double seconds = std::min(chance.evenInRatio(0.001, 2.0), 200000.0 / rate);
    const int block = chance.once(4)   ? 2 * largestBlock
                      : chance.once(3) ? chance.whole(0, 64)
                                       : static_cast<int>(chance.evenInRatio(1.0, largestEver));
    doing = fmt::format("play {} s in blocks of {} at {} Hz", seconds, block, rate_Hz);
    playFor(sound, seconds * rate / std::max(rate_Hz, 1.0), block, Handing::strange);
}

// A block length of 0 stands for one that changes from block to block.
void Subject::playFor(Sound& sound, double seconds, int length, Handing handing)
{
    const auto wanted =
        std::max<std::int64_t>(1, std::isfinite(seconds * rate_Hz) ? std::llround(seconds * rate_Hz) : 1000);
    for (std::int64_t done = 0; done < wanted;) {
        const int samples = length > 0 ? std::min(length, largestEver) : chance.whole(0, 256);
        block(sound, samples, handing);
        done += std::max(samples, 1);
    }
}

void Subject::block(Sound& sound, int samples, Handing handing)
{
    const int given = handing == Handing::strange && chance.once(200) ? chance.whole(0, 4) : channels;
    juce::AudioBuffer<float> buffer(given, samples);
    for (int c = 0; c < given; ++c) {
        if (c == 0)
            sound.fill({buffer.getWritePointer(0), static_cast<std::size_t>(samples)}, chance);
        else
            buffer.copyFrom(c, 0, buffer, 0, 0, samples);
    }
    const juce::AudioBuffer<float> before(buffer);
    const int inputs = std::min(given, channels);
    juce::MidiBuffer midi;
    {
        const juce::ScopedNoDenormals noDenormals;
        twin.process(before.getArrayOfReadPointers(), inputs, samples, audioSettings(processor->parameters));
    }
    {
#ifdef COUPLET_GUARDED
        const tests::Watch watch;
#endif
        processor->processBlock(buffer, midi);
    }
#ifdef COUPLET_GUARDED
    if (const auto seen = tests::takeViolations(); seen.total() != 0)
        throw Finding{fmt::format("on the audio thread: {} allocations, {} frees, {} locks, {} waits, {} of files",
                                  seen.mallocs, seen.frees, seen.locks, seen.waits, seen.io)};
#endif
    ++counts.blocks;
    counts.samples += samples;
    const PassInput choice = passInputOf(processor->parameters);
    for (int c = 0; c < given; ++c) {
        const float* out = buffer.getReadPointer(c);
        const bool same =
            std::memcmp(before.getReadPointer(c), out, sizeof(float) * static_cast<std::size_t>(samples)) == 0;
        const bool mayAsk = choice == PassInput::guarded && !processor->isNonRealtime();
        if (c < inputs && choice == PassInput::notAtAll && !isZero(out, samples))
            throw Finding{fmt::format("channel {} was passed on", c + 1)};
        if (c < inputs && choice != PassInput::notAtAll && !same && !mayAsk)
            throw Finding{fmt::format("channel {} came out changed", c + 1)};
        for (int i = 0; c < inputs && !same && mayAsk && i < samples; ++i) { // by the loop guard, if at all
            const float x = before.getSample(c, i);
            if (std::isfinite(x) && !(std::abs(out[i]) <= std::abs(x) + 1.0f))
                throw Finding{fmt::format("channel {} came out as {} for {}", c + 1, out[i], x)};
        }
        if (c >= inputs && !isZero(out, samples))
            throw Finding{fmt::format("channel {}, which is none of ours, is not silent", c + 1)};
    }
    followTwin();
    processor->tick();
}

void Subject::followTwin()
{
    const auto drain = [&](EstimateRing& ring, bool microphone) {
        Heard heard;
        while (ring.pop(heard)) {
            ++counts.estimates;
            if (const auto name = notFinite(heard.estimate); !name.empty())
                throw Finding{fmt::format("an estimate's {} is no number", name)};
            if (!microphone)
                continue;
            if (heard.stream == lastStream && heard.estimate.hop != lastHop + 1 && twin.lost() == 0)
                throw Finding{fmt::format("hop {} came after hop {}", heard.estimate.hop, lastHop)};
            lastStream = heard.stream;
            lastHop = heard.estimate.hop;
        }
    };
    drain(twin.microphoneRing(), true);
    drain(twin.secondRing(), false);
}

void Subject::settle()
{
    for (int i = 0; i < 5; ++i)
        processor->tick();
}

void Subject::checkView()
{
    const LiveView& view = processor->view();
    if (const auto name = notFinite(view); !name.empty())
        throw Finding{fmt::format("the view's {} is no number", name)};
    if (view.revision <= lastRevision)
        throw Finding{"the view does not count upward"};
    lastRevision = view.revision;
}

void Subject::recover()
{
    if (!twin.measures())
        return;
    const auto wish = [&](ParameterId id, double value) {
        if (processor->parameters.exact(id) != value) // to set is not to begin anew
            processor->parameters.set(id, value);
    };
    wish(ParameterId::simulatedSource, 0.0);
    wish(ParameterId::hold, 0.0);
    wish(ParameterId::microphoneChannel, 1.0);
    const double tone_Hz = cleanTone_Hz(chance, rate_Hz), level_dBFS = chance.between(-60.0, -1.0);
    Sound tone(tone_Hz, level_dBFS, rate_Hz);
    const int length = chance.whole(16, 2048);
    doing = fmt::format("a clean tone of {} Hz, {} dBFS after '{}'", tone_Hz, level_dBFS, doing);
    playFor(tone, window_s + extra_s, length, Handing::asAgreed);
    settle();
    const auto& heard = processor->view().reading.tone;
    if (!heard.level_dBFS)
        throw Finding{"a clean tone is not read: " + heard.whyNoLevel};
    if (std::abs(*heard.level_dBFS - level_dBFS) > worstAfterGarbage_dB)
        throw Finding{fmt::format("a clean tone is read as {} dBFS", *heard.level_dBFS)};
    ++counts.recoveries;
}

} // namespace couplet::fuzz
