// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/ReferenceBench.h"

#include "Bench/SimulatedPapers.h"

#include <algorithm>

namespace couplet {

void ReferenceBench::know(std::vector<Calibrator> known)
{
    calibrators = std::move(known);
}

const Coupler* ReferenceBench::coupler() const
{
    const auto& chosen = live.chosen().coupler;
    return chosen ? &*chosen : nullptr;
}

bool ReferenceBench::simulated() const
{
    return live.chosenSettings().audio.simulated.has_value();
}

// The one chosen by hand, else that of the last reference, else the only one there is.
std::optional<Calibrator> ReferenceBench::calibrator() const
{
    if (simulated())
        return calibratorOnPaper(demoScenario());
    std::string name = calibratorName;
    const Coupler* c = coupler();
    if (name.empty() && c != nullptr && c->current() != nullptr)
        name = c->current()->calibrator;
    for (const Calibrator& each : calibrators)
        if (each.name == name)
            return each;
    if (calibratorName.empty() && calibrators.size() == 1)
        return calibrators.front();
    return std::nullopt;
}

std::optional<ReferenceSetup> ReferenceBench::setupNow(std::string& why) const
{
    ReferenceSetup setup;
    if (coupler() == nullptr) {
        why = "No coupler is chosen: a reference belongs to one.";
        return std::nullopt;
    }
    const auto chosen = calibrator();
    if (!chosen) {
        why = calibrators.empty() ? "The library has no calibrator: add yours, with its certified level."
                                  : "Choose the calibrator that is on the coupler.";
        return std::nullopt;
    }
    setup.coupler = *coupler();
    setup.calibrator = *chosen;
    setup.level_dB = level_dB;
    setup.pressure = pressure;
    setup.channel = live.chosen().channel;
    setup.now = timeNow();
    setup.source = simulated() ? simulatedSource : "live";
    if (secondLevel && secondLevelOf == chosen->name)
        setup.secondLevel = secondLevel;
    return setup;
}

void ReferenceBench::chooseCalibrator(const std::string& name)
{
    if (captures())
        return; // what a capture began with, it ends with
    calibratorName = name;
    level_dB.reset();
}

void ReferenceBench::chooseLevel(std::optional<double> level)
{
    if (!captures())
        level_dB = level;
}

void ReferenceBench::setSeatings(int count)
{
    seatings = std::clamp(count, 1, 9);
}

void ReferenceBench::start(CaptureKind kind, bool handsFree)
{
    refusal.clear();
    forgetResults();
    place = placeNow();
    shown.storeNotice.clear();
    auto setup = setupNow(refusal);
    if (!setup) {
        endIsPast = !captures();
        capture.cancel();
        return;
    }
    endIsPast = false;
    if (kind == CaptureKind::secondLevel) {
        setup->secondLevel.reset();
        setup->level_dB.reset();
        // Whichever of its levels it is, the frequency and the limits are the same.
        setup->calibrator.tones = {setup->calibrator.nearest(capture.tone().frequency.value_or(Hertz(1000.0)))};
    }
    CaptureWish wish;
    wish.kind = kind;
    wish.handsFree = handsFree;
    wish.seatings = seatings;
    capture.start(*setup, wish);
    boundSimulated = simulated();
    boundChannel = setup->channel;
    settled = false;
}

void ReferenceBench::cancel()
{
    capture.cancel();
    settled = true;
}

void ReferenceBench::finish()
{
    if (!captures())
        return;
    capture.finish();
    settle();
}

void ReferenceBench::add(const Heard& heard)
{
    if (heard.stream != stream)
        capture.streamBegins();
    stream = heard.stream;
    capture.add(heard.estimate);
}

} // namespace couplet
