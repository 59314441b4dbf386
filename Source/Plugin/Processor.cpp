// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Processor.h"

#include <algorithm>
#include <string_view>

namespace couplet {
namespace {

constexpr int ticksPerSecond = 20;

// The library's own faults are its business; a session starts with what can be read.
std::string noticeOf(const Folder::Listing& library)
{
    const auto& faults = library.unreadable.empty() ? library.lookAlikes : library.unreadable;
    return faults.empty() ? std::string() : faults.front().sentence;
}

} // namespace

Processor::Processor(EditorFactory factory)
    : AudioProcessor(BusesProperties()
                         .withInput("Input", juce::AudioChannelSet::stereo())
                         .withOutput("Output", juce::AudioChannelSet::stereo())),
      makeEditor(factory)
{
    const auto library = desk.readNow();
    session = sessionFrom(*library);
    knowLibrary(*library);
    stateNotice = noticeOf(*library);
    if (auto path = LiveFile::named())
        liveFile = std::make_unique<LiveFile>(*path);
    ticker = std::make_unique<Ticker>(ticksPerSecond, [this] { tick(); });
}

Processor::~Processor()
{
    ticker.reset();
}

bool Processor::isBusesLayoutSupported(const BusesLayout& layout) const
{
    const auto in = layout.getMainInputChannelSet();
    return in == layout.getMainOutputChannelSet() &&
           (in == juce::AudioChannelSet::mono() || in == juce::AudioChannelSet::stereo());
}

juce::AudioProcessorEditor* Processor::createEditor()
{
    if (makeEditor != nullptr)
        return makeEditor(*this);
    return new juce::GenericAudioProcessorEditor(*this);
}

void Processor::prepareToPlay(double sampleRate_Hz, int largestBlock)
{
    audio.prepare(sampleRate_Hz);
    loopGuard.prepare(sampleRate_Hz, largestBlock);
}

void Processor::processBlock(juce::AudioBuffer<float>& buffer, juce::MidiBuffer&)
{
    const juce::ScopedNoDenormals noDenormals;
    const int inputs = std::min(getTotalNumInputChannels(), buffer.getNumChannels());
    rendersOffline.store(isNonRealtime(), std::memory_order_relaxed);
    audio.process(buffer.getArrayOfReadPointers(), inputs, buffer.getNumSamples(), audioSettings(parameters));

    passOn(buffer, inputs);
    for (int channel = inputs; channel < buffer.getNumChannels(); ++channel)
        buffer.clear(channel, 0, buffer.getNumSamples());
}

// Measured is what came in, before any of this.
void Processor::passOn(juce::AudioBuffer<float>& buffer, int inputs) noexcept
{
    const PassInput choice = passInputOf(parameters);
    const bool alone = wrapperType == wrapperType_Standalone; // a microphone and a loudspeaker in one room
    if (!alone && choice == PassInput::guarded && !isNonRealtime()) {
        loopGuard.process(buffer.getArrayOfWritePointers(), inputs, buffer.getNumSamples());
        return;
    }
    loopGuard.rest();
    if (alone || choice == PassInput::notAtAll)
        buffer.clear();
}

void Processor::getStateInformation(juce::MemoryBlock& block)
{
    const auto values = parameters.values();
    std::string text;
    {
        const std::lock_guard lock(sessionMutex);
        text = keptState ? *keptState : textOf(SavedSession{session, values});
    }
    block.replaceAll(text.data(), text.size());
}

void Processor::setStateInformation(const void* data, int size)
{
    if (data == nullptr || size <= 0)
        return;
    const std::string_view text(static_cast<const char*>(data), static_cast<std::size_t>(size));
    const auto saved = savedSessionFrom(text);
    {
        const std::lock_guard lock(sessionMutex);
        ++sessionRevision;
        if (!saved) {
            keptState = std::string(text);
            stateNotice = saved.fault().sentence + ". Until then it is handed back as it is, and what you change here "
                                                   "is not saved.";
            return;
        }
        session = saved->session;
        keptState.reset();
        stateNotice = saved->notice;
    }
    parameters.restore(saved->parameters);
}

void Processor::chooseCouplerByHand(std::optional<Coupler> coupler)
{
    changeSession([&](Session& s) { s.couplers[0] = std::move(coupler); });
    parameters.setByHand(ParameterId::couplerSlot, 0);
}

void Processor::chooseEarphoneByHand(std::optional<Earphone> earphone)
{
    changeSession([&](Session& s) { s.earphones[0] = std::move(earphone); });
    parameters.setByHand(ParameterId::earphoneSlot, 0);
}

void Processor::putInSlot(int slot, std::optional<Coupler> coupler)
{
    changeSession([&](Session& s) { s.couplers.at(static_cast<std::size_t>(slot)) = std::move(coupler); });
}

void Processor::putInSlot(int slot, std::optional<Earphone> earphone)
{
    changeSession([&](Session& s) { s.earphones.at(static_cast<std::size_t>(slot)) = std::move(earphone); });
}

Session Processor::sessionNow() const
{
    const std::lock_guard lock(sessionMutex);
    return session;
}

std::uint64_t Processor::sessionRevisionNow() const
{
    const std::lock_guard lock(sessionMutex);
    return sessionRevision;
}

} // namespace couplet
