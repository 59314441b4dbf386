// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LiveBench.h"

#include "Bench/SimulatedPapers.h"
#include "Plugin/SimulatedCoupler.h"

#include <fmt/format.h>

namespace couplet {
namespace {

template <class Slots> const auto& inSlot(const Slots& slots, int slot)
{
    return slots[static_cast<std::size_t>(slot)];
}

template <class Slots, class Names> void showNames(const Slots& slots, Names& names)
{
    for (std::size_t i = 0; i < names.size(); ++i)
        names[i] = slots[i + 1] ? slots[i + 1]->name : "";
}

} // namespace

void LiveBench::add(const Heard& heard)
{
    if (heard.stream != stream)
        tone.restart();
    stream = heard.stream;
    tone.add(heard.estimate);
    latest = heard.estimate;
}

void LiveBench::addSecond(const Heard& heard)
{
    if (heard.stream != secondStream)
        secondTone.restart();
    secondStream = heard.stream;
    secondTone.add(heard.estimate);
}

void LiveBench::choose(const Session& session, const BenchSettings& wanted)
{
    BenchSettings next = wanted;
    shown.couplerNotice.clear();
    const auto bound = setup.coupler;
    if (captureRuns && next.couplerSlot != settings.couplerSlot) {
        shown.couplerNotice =
            next.couplerSlot == 0
                ? "The switch to the coupler chosen by hand waits until the capture has ended."
                : fmt::format("The switch to coupler slot {} waits until the capture has ended.", next.couplerSlot);
        next.couplerSlot = settings.couplerSlot;
    }
    take(session, next);
    if (captureRuns)
        setup.coupler = bound;
    showNames(session.couplers, shown.slotNames);
    showNames(session.earphones, shown.earphoneNames);
}

void LiveBench::take(const Session& session, const BenchSettings& next)
{
    settings = next;
    spectrumDue = true;
    setup = Setup{};
    setup.coupler = inSlot(session.couplers, settings.couplerSlot);
    setup.earphone = inSlot(session.earphones, settings.earphoneSlot);
    setup.side = settings.side;
    setup.drive = chosenDrive();
    if (settings.audio.second == SecondChannel::drive && setup.drive)
        setup.driveFullScale = settings.driveFullScale;
    setup.largestU_dB = settings.largestU_dB;
    setup.channel = settings.audio.microphone;

    secondSetup = Setup{};
    secondSetup.coupler = inSlot(session.couplers, settings.secondCouplerSlot);
    secondSetup.channel = settings.audio.secondNumber();
    if (settings.audio.simulated)
        takeSimulated();
    else if (settings.couplerSlot > 0 && !setup.coupler && shown.couplerNotice.empty())
        shown.couplerNotice =
            fmt::format("There is no coupler in slot {}: choose another, or put one there.", settings.couplerSlot);
}

// A sensed drive without its full scale is no voltage.
std::optional<Drive> LiveBench::chosenDrive() const
{
    Drive drive;
    drive.source = settings.source;
    drive.acrossByDefault = !settings.source; // the parameter's default, whether chosen or not
    drive.meterAccuracy = settings.meterAccuracy;
    if (settings.audio.second == SecondChannel::drive)
        return settings.driveFullScale ? std::optional(drive) : std::nullopt;
    if (!settings.driveVoltage)
        return {};
    drive.voltage = *settings.driveVoltage;
    return drive;
}

// What lies on the simulated bench is known from its papers, whatever was chosen for the real one.
void LiveBench::takeSimulated()
{
    const Scenario scenario = demoScenario();
    const OnCoupler& on = *settings.audio.simulated;
    refreshSimulatedCoupler();
    spectrumDue = true;
    setup.coupler = simulatedCoupler;
    setup.channel = 1;
    setup.earphone.reset();
    setup.side.clear();
    setup.drive.reset();
    setup.driveFullScale.reset();
    if (on.what != OnCoupler::What::earphone)
        return;
    setup.earphone = earphoneOnPaper(scenario, on.earphone);
    setup.side = on.side == Side::left ? "left" : "right";
    setup.drive = driveOnPaper(scenario, on.earphone);
    if (on.drive)
        setup.drive->voltage = *on.drive;
    if (settings.audio.second == SecondChannel::drive)
        setup.driveFullScale = scenario.driveFullScale;
}

// A reference belongs to its sample rate and ages, the simulated one too.
void LiveBench::refreshSimulatedCoupler()
{
    const Reference* reference = simulatedCoupler.current();
    const bool stale = reference != nullptr && isStale(*reference, simulatedCoupler, timeNow());
    if (!facts.measures || (simulatedCouplerRate_Hz == facts.sampleRate_Hz && !stale))
        return;
    simulatedCoupler = referencedOnPaper(demoScenario(), facts.sampleRate_Hz);
    simulatedCouplerRate_Hz = facts.sampleRate_Hz;
}

void LiveBench::keepSimulated(const Coupler& coupler)
{
    simulatedCoupler = coupler;
    if (settings.audio.simulated)
        setup.coupler = coupler;
}

std::string LiveBench::whyNothing(int channel) const
{
    if (facts.sampleRate_Hz != 0.0 && !facts.measures)
        return fmt::format("Couplet cannot measure at a sample rate of {:g} Hz; choose one from 8 to 384 kHz",
                           facts.sampleRate_Hz);
    if (!facts.runs)
        return "no audio arrives; start the host's audio or choose an audio device";
    if (!settings.audio.simulated && channel > facts.channels)
        return fmt::format("there is no input channel {}, for the host gives {}; choose another channel", channel,
                           facts.channels);
    return {};
}

ToneSummary LiveBench::summaryOf(const LiveTone& heard, int channel) const
{
    const auto why = whyNothing(channel);
    if (why.empty())
        return heard.summary();
    ToneSummary nothing;
    nothing.whyNoLevel = why;
    nothing.sampleRate_Hz = facts.sampleRate_Hz;
    return nothing;
}

void LiveBench::update(double now_s)
{
    if (!facts.runs) { // what was heard is of the past
        tone.restart();
        secondTone.restart();
        latest.reset();
    }
    if (settings.audio.simulated && simulatedCouplerRate_Hz != facts.sampleRate_Hz)
        takeSimulated();
    setup.now = secondSetup.now = timeNow();
    Reading reading = makeReading(summaryOf(tone, settings.audio.microphone), setup);
    if (settings.audio.simulated)
        reading.notes.insert(reading.notes.begin(), "simulated: this bench does not exist");
    showTrend(now_s, reading);
    if (!settings.hold) {
        shown.reading = std::move(reading);
        shown.second.reset();
        if (settings.audio.second == SecondChannel::secondMicrophone && !settings.audio.simulated)
            shown.second = makeReading(summaryOf(secondTone, settings.audio.secondNumber()), secondSetup);
        showLevels();
    }
    showSpectrum();
    showReference();
    showTexts();
    ++shown.revision;
}

} // namespace couplet
