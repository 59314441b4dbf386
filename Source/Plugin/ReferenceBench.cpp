// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/ReferenceBench.h"

#include "Bench/SimulatedPapers.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

// All but whether it is set aside, as the library knows a reference again.
bool isSame(const Reference& a, Reference b)
{
    b.setAside = a.setAside;
    return a == b;
}

} // namespace

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
    setup.source = simulated() ? "simulated bench" : "live";
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
    lastCheck.reset();
    justKept.reset();
    keptOutcome.reset();
    shown.storeNotice.clear();
    auto setup = setupNow(refusal);
    if (!setup) {
        capture.cancel();
        return;
    }
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
    capture.finish();
    settle();
}

void ReferenceBench::undo()
{
    if (captures()) {
        capture.undoSeating();
        return;
    }
    const Coupler* c = coupler();
    if (!justKept || c == nullptr || c->name != keptFor)
        return;
    changeOne(*justKept, "undone");
    justKept.reset();
    keptOutcome.reset();
    refusal = "The reference just taken was set aside; the one before is in force again.";
}

void ReferenceBench::setAside(std::size_t index, const std::string& reason)
{
    const Coupler* c = coupler();
    if (c == nullptr || captures())
        return;
    Coupler tried = *c;
    if (const auto done = couplet::setAside(tried, index, reason); !done) {
        refusal = done.fault().sentence;
        return;
    }
    refusal.clear();
    changeOne(c->references[index], reason);
}

// By what it is and not by its place, which is another in each copy of the history.
void ReferenceBench::changeOne(const Reference& one, const std::string& reason)
{
    change([one, reason](Coupler& kept) -> Outcome<Done> {
        const auto found = std::find_if(kept.references.begin(), kept.references.end(),
                                        [&](const Reference& r) { return isSame(r, one); });
        if (found != kept.references.end()) {
            found->setAside = reason;
            return Done{};
        }
        kept.references.push_back(one); // a copy that lacks it gets it, as it is now
        kept.references.back().setAside = reason;
        return Done{};
    });
}

void ReferenceBench::setJudged(const JudgedTerms& judged)
{
    change([judged](Coupler& kept) -> Outcome<Done> {
        kept.judged = judged;
        return Done{};
    });
}

void ReferenceBench::change(const Change& wanted)
{
    const Coupler* c = coupler();
    if (c == nullptr)
        return;
    const auto done = store(c->name, simulated(), wanted);
    shown.storeNotice = done ? std::string() : done.fault().sentence;
}

void ReferenceBench::add(const Heard& heard)
{
    if (heard.stream != stream)
        capture.streamBegins();
    stream = heard.stream;
    capture.add(heard.estimate);
}

void ReferenceBench::endIfBenchChanged()
{
    if (!captures())
        return;
    if (simulated() == boundSimulated && live.chosenSettings().audio.microphone == boundChannel)
        return;
    if (simulated() && boundSimulated) // its own channel stands for the microphone's
        return;
    cancel();
    refusal = "The capture was ended, for the bench or the microphone's channel was changed: nothing was kept.";
}

void ReferenceBench::settle()
{
    endIfBenchChanged();
    if (settled || captures())
        return;
    settled = true;
    if (capture.check())
        lastCheck = capture.check();
    if (capture.secondLevel()) {
        secondLevel = capture.secondLevel();
        secondLevelOf = capture.setup().calibrator.name;
    }
    if (capture.state() == CaptureState::done && capture.outcome())
        keepReference();
}

void ReferenceBench::keepReference()
{
    ReferenceSetup setup = capture.setup();
    setup.now = timeNow();
    keptOutcome = capture.outcome();
    justKept = keptOutcome->kept(setup);
    keptFor = setup.coupler.name;
    secondLevel.reset(); // it was heard for this one
    const auto done = store(keptFor, boundSimulated, [kept = *justKept](Coupler& coupler) -> Outcome<Done> {
        coupler.references.push_back(kept);
        return Done{};
    });
    shown.storeNotice = done ? std::string() : done.fault().sentence;
}

} // namespace couplet
