// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the processor does on the message thread: from the rings to the view and the live file, and the controls.
#include "Bench/ReadingJson.h"
#include "Plugin/Processor.h"

namespace couplet {
namespace {

constexpr int ticksPerUnwatchedUpdate = 5; // only the trend needs them
constexpr double audioRunsFor_s = 1.0;     // after its last block
constexpr double liveFileEvery_s = 0.1;
constexpr double millivoltsPerVolt = 1e3;

double clock_s()
{
    return juce::Time::getMillisecondCounterHiRes() * 1e-3;
}

std::string liveText(const LiveView& view)
{
    JsonObject object = jsonOf(view.reading);
    object.emplace_back("simulated", view.simulated);
    object.emplace_back("held", view.hold);
    return printedJson(object, JsonLayout::line) + "\n";
}

} // namespace

void Processor::tick()
{
    const double now_s = clock_s();
    if (wrapperType == wrapperType_Standalone)
        standby.tick(audioSettings(parameters), now_s);
    const AudioFacts facts = factsNow(now_s);
    desk.tick(now_s);
    followLibrary();
    chooseWhatChanged(facts);
    drainRings();
    followSpectrum(facts);
    hasNews = fit.settle() || hasNews;
    const bool watched = getActiveEditor() != nullptr || liveFile != nullptr;
    const bool due = ++ticks % ticksPerUnwatchedUpdate == 0;
    if ((watched && hasNews) || due) {
        bench.update(now_s);
        referenceDue = fitDue = true;
        hasNews = false;
    }
    if (liveFile != nullptr)
        writeLiveFile(now_s);
}

AudioFacts Processor::factsNow(double now_s)
{
    const auto blocks = audio.blocks();
    if (blocks != lastBlocks)
        lastBlock_s = now_s;
    lastBlocks = blocks;
    AudioFacts facts;
    facts.sampleRate_Hz = audio.sampleRate_Hz();
    facts.measures = audio.measures();
    facts.channels = audio.channelCount();
    facts.runs = blocks > 0 && now_s - lastBlock_s < audioRunsFor_s;
    facts.offline = rendersOffline.load(std::memory_order_relaxed);
    facts.loopMuted = loopGuard.muted() && passInputOf(parameters) == PassInput::guarded;
    facts.lost = audio.lost();
    return facts;
}

void Processor::drainRings()
{
    Heard heard;
    while (audio.microphoneRing().pop(heard)) {
        bench.add(heard);
        reference.add(heard);
        fit.add(heard);
        hasNews = true;
    }
    reference.settle();
    bindCoupler();
    while (audio.secondRing().pop(heard)) {
        bench.addSecond(heard);
        hasNews = true;
    }
}

// Once its editor has closed, nobody looks, whatever was asked for; and after a pause of the audio it begins anew.
void Processor::followSpectrum(const AudioFacts& facts)
{
    const bool looked = spectrumWanted && getActiveEditor() != nullptr;
    spectrum.follow(looked && facts.runs ? audio.sampleFeed() : nullptr);
    hasNews = bench.look(looked, spectrum.newest()) || hasNews;
}

void Processor::chooseWhatChanged(const AudioFacts& facts)
{
    const auto settings = benchSettings(parameters);
    bench.know(facts);
    hasNews = hasNews || !(facts == lastFacts);
    lastFacts = facts;
    const std::lock_guard lock(sessionMutex);
    if (settings == lastSettings && sessionRevision == lastSessionRevision && bench.captures() == lastCaptures)
        return;
    lastSettings = settings;
    lastSessionRevision = sessionRevision;
    lastCaptures = bench.captures();
    bench.choose(session, settings);
    fit.adopt(session.fit);
    bench.say(!stateNotice.empty() ? stateNotice : liveNotice);
    hasNews = true;
}

void Processor::writeLiveFile(double now_s)
{
    if (now_s < nextWriting_s || (lastWritten.empty() && !lastFacts.runs))
        return;
    const auto text = liveText(bench.view());
    if (text == lastWritten && !lastFacts.runs) // while audio runs, a new file says that it does
        return;
    const auto written = liveFile->write(text);
    lastWritten = text;
    // Ten times a second on the average, whatever beat the timer keeps.
    nextWriting_s = now_s - nextWriting_s < liveFileEvery_s ? nextWriting_s + liveFileEvery_s : now_s + liveFileEvery_s;
    const std::string notice = written ? std::string() : written.fault().sentence;
    if (notice != liveNotice) {
        liveNotice = notice;
        lastSessionRevision = 0; // have it said
    }
}

void Processor::chooseCouplerSlot(int slot)
{
    parameters.setByHand(ParameterId::couplerSlot, slot);
}

void Processor::chooseEarphoneSlot(int slot)
{
    parameters.setByHand(ParameterId::earphoneSlot, slot);
}

void Processor::chooseSide(const std::string& side)
{
    parameters.setByHand(ParameterId::side, side == "left" ? 1 : side == "right" ? 2 : 0);
}

void Processor::setDrive(std::optional<Volts> drive)
{
    parameters.setByHand(ParameterId::driveVoltage, drive ? drive->value * millivoltsPerVolt : 0.0);
}

void Processor::setWeighting(FrequencyWeighting weighting)
{
    parameters.setByHand(ParameterId::weighting, static_cast<double>(weighting));
}

void Processor::setTimeWeighting(TimeWeighting time)
{
    parameters.setByHand(ParameterId::timeWeighting, time == TimeWeighting::fast ? 0 : 1);
}

void Processor::setHold(bool hold)
{
    parameters.setByHand(ParameterId::hold, hold ? 1 : 0);
}

void Processor::simulate(bool on, const OnCoupler& what)
{
    parameters.setByHand(ParameterId::simulatedDrive, what.drive ? what.drive->value * millivoltsPerVolt : 0.0);
    parameters.setByHand(ParameterId::simulatedSource, on ? simulatedSourceOf(what) : 0);
}

} // namespace couplet
