// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of LiveBench that fills the view beside the reading.
#include "Bench/SpectrumMaking.h"
#include "Plugin/LiveBench.h"

#include "Quantities/Decibels.h"

#include <fmt/format.h>

#include <utility>

namespace couplet {
namespace {

constexpr double trendStep_s = 0.25;
constexpr std::size_t trendPoints = 240;

} // namespace

// Mean squares as levels: a full-scale sine, whose mean square is a half, reads 0 dBFS.
void LiveBench::showLevels()
{
    const auto offset = offsetInForce(setup);
    const auto level = [&](std::optional<double> meanSquare) -> std::optional<double> {
        if (!meanSquare || !(*meanSquare > 0.0))
            return {};
        return decibelsOfPower(2.0 * *meanSquare) + (offset ? offset->level_dB : 0.0);
    };
    shown.weighted_dB = shown.weightedMax_dB = shown.weightedMin_dB = std::nullopt;
    if (!latest)
        return;
    const BroadbandLevels& levels = latest->levels[static_cast<std::size_t>(settings.weighting)];
    const bool fast = settings.time == TimeWeighting::fast;
    shown.weighted_dB = level(fast ? levels.fast : levels.slow);
    shown.weightedMax_dB = level(fast ? levels.fastMax : levels.slowMax);
    shown.weightedMin_dB = level(fast ? levels.fastMin : levels.slowMin);
}

bool LiveBench::look(bool wanted, std::shared_ptr<const SpectrumResult> newest)
{
    if (wanted == spectrumWanted && newest == spectrum)
        return false;
    spectrumWanted = wanted;
    spectrum = std::move(newest);
    spectrumDue = true;
    return true;
}

// Worked out only when something has changed: the lines come some six times a second, the estimates twenty.
void LiveBench::showSpectrum()
{
    if (!spectrumWanted)
        shown.spectrum.reset();
    const auto why = whyNothing(settings.audio.microphone);
    const bool due = spectrumDue || why != whyNoSpectrum || !shown.spectrum;
    if (!spectrumWanted || !due || (settings.hold && shown.spectrum))
        return;
    spectrumDue = false;
    whyNoSpectrum = why;
    if (!why.empty())
        shown.spectrum = noSpectrum(why);
    else
        shown.spectrum = makeSpectrumReading(spectrum != nullptr ? *spectrum : SpectrumResult{},
                                             latest ? latest->tone : ToneEstimate{}, setup);
}

void LiveBench::showReference()
{
    shown.referenceAge_s.reset();
    shown.reference = ReferenceState::noCoupler;
    if (!setup.coupler)
        return;
    const Reference* reference = setup.coupler->current();
    shown.reference = ReferenceState::none;
    if (reference == nullptr)
        return;
    shown.reference = isStale(*reference, *setup.coupler, setup.now) ? ReferenceState::stale : ReferenceState::fresh;
    shown.referenceAge_s = ageOf_s(*reference, setup.now);
}

void LiveBench::showTexts()
{
    shown.couplerSlot = settings.couplerSlot;
    shown.earphoneSlot = settings.earphoneSlot;
    shown.side = settings.side;
    shown.weighting = settings.weighting;
    shown.time = settings.time;
    shown.hold = settings.hold;
    shown.audioRuns = facts.runs;
    shown.offline = facts.offline;
    shown.simulated = settings.audio.simulated.has_value();
    shown.onSimulatedCoupler = settings.audio.simulated.value_or(OnCoupler{});
    shown.loopMuted = facts.loopMuted;
    shown.passInput = settings.passInput;
    shown.lostEstimates = facts.lost;
    shown.sampleRate_Hz = facts.sampleRate_Hz;

    const bool sensed = settings.audio.second == SecondChannel::drive;
    shown.microphoneText = fmt::format("mic: in {}", settings.audio.microphone);
    shown.driveText = settings.driveVoltage ? "drive: typed" : "drive: none";
    if (sensed)
        shown.driveText = fmt::format("drive: in {}{}", settings.audio.secondNumber(),
                                      settings.driveFullScale ? "" : ", full scale not known");
    if (shown.simulated) {
        shown.microphoneText = "mic: simulated";
        shown.driveText = !setup.drive ? "drive: none" : sensed ? "drive: simulated, sensed" : "drive: simulated";
    }
}

// Another coupler or another unit is another line: no step may look like a change of the earphone.
void LiveBench::showTrend(double now_s, const Reading& reading)
{
    const std::string drawnIn = fmt::format("{}/{}", reading.referenced, reading.coupler);
    if (reading.measured && drawnIn != trendOf) {
        shown.trend.clear();
        trendOf = drawnIn;
    }
    if (lastTrend_s && now_s - *lastTrend_s < trendStep_s)
        return;
    // A late timer does not bend the line's own time; a clock that stood still for long starts it anew.
    lastTrend_s = lastTrend_s && now_s - *lastTrend_s < 2.0 * trendStep_s ? *lastTrend_s + trendStep_s : now_s;
    shown.trend.push_back({reading.measured ? std::optional(reading.measured->level_dB) : std::nullopt});
    if (shown.trend.size() > trendPoints)
        shown.trend.pop_front();
}

} // namespace couplet
