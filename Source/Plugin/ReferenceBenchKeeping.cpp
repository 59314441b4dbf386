// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of ReferenceBench that has references kept and set aside, and forgets what is told of them once it is not
// true any more.
#include "Plugin/ReferenceBench.h"

#include <algorithm>

namespace couplet {
namespace {

constexpr const char* undoneReason = "undone";

// All but whether it is set aside, as the library knows a reference again.
bool isSame(const Reference& a, Reference b)
{
    b.setAside = a.setAside;
    return a == b;
}

} // namespace

// By what it is and not by its place, which is another in each copy of the history. A copy that lacks it gets it, but
// what was taken on a bench that does not exist belongs in no real coupler's history.
void ReferenceBench::giveReason(Coupler& kept, const Reference& one, const std::string& reason)
{
    auto found = std::find_if(kept.references.begin(), kept.references.end(),
                              [&](const Reference& r) { return isSame(r, one); });
    if (found == kept.references.end()) {
        if (one.source == simulatedSource && !kept.simulated)
            return;
        found = kept.references.insert(found, one);
    }
    found->setAside = reason;
}

void ReferenceBench::undo()
{
    if (captures()) {
        capture.undoSeating();
        return;
    }
    if (waiting) {
        forgetResults();
        refusal = "The result was discarded; the reference before stays in force.";
        return;
    }
    if (!keptHere())
        return;
    const Reference undone = *justKept;
    Coupler after = *coupler();
    giveReason(after, undone, undoneReason);
    changeOne(undone, undoneReason);
    forgetResults();
    refusal = after.current() != nullptr ? "The reference just taken was set aside; the one before is in force again."
                                         : "The reference just taken was set aside; no reference is in force.";
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
    forgetUntrueOf(tried);
}

void ReferenceBench::changeOne(const Reference& one, const std::string& reason)
{
    change([one, reason](Coupler& kept) -> Outcome<Done> {
        giveReason(kept, one, reason);
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

ReferenceBench::Place ReferenceBench::placeNow() const
{
    const Coupler* c = coupler();
    return {c != nullptr ? c->name : "", simulated(), live.chosen().channel};
}

bool ReferenceBench::keptHere() const
{
    const Coupler* c = coupler();
    return justKept && c != nullptr && c->name == keptFor && simulated() == boundSimulated;
}

void ReferenceBench::forgetResults()
{
    justKept.reset();
    keptOutcome.reset();
    lastCheck.reset();
    waiting.reset();
    checkedAgainst.reset();
    endIsPast = true;
}

// A reference that is in force no more is not told as just taken, nor a check as one against the reference in force.
void ReferenceBench::forgetUntrueOf(const Coupler& c)
{
    const Reference* current = c.current();
    const bool sameCurrent = current != nullptr ? checkedAgainst && isSame(*checkedAgainst, *current) : !checkedAgainst;
    const bool counts = !justKept || std::any_of(c.references.rbegin(), c.references.rend(), [&](const Reference& r) {
        return r.setAside.empty() && isSame(r, *justKept);
    });
    const bool comparedWithAnother = (lastCheck || waiting) && !sameCurrent;
    if (comparedWithAnother && waiting)
        refusal = "The reference it was compared with is in force no more: take it again.";
    if (comparedWithAnother || !counts)
        forgetResults();
}

// What was told of another coupler, bench or channel. While the live bench knows of a capture, what is chosen is what
// that one is bound to.
void ReferenceBench::forgetWhatPassed()
{
    if (captures() || live.captures())
        return;
    const Place now = placeNow();
    if (place && *place != now) {
        forgetResults();
        refusal.clear();
        secondLevel.reset();
    }
    place = now;
    if (const Coupler* c = coupler())
        forgetUntrueOf(*c);
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
    place.reset(); // that it was ended is told where the bench is now
    refusal = "The capture was ended, for the bench or the microphone's channel was changed: nothing was kept.";
}

void ReferenceBench::settle()
{
    endIfBenchChanged();
    forgetWhatPassed();
    if (settled || captures())
        return;
    settled = true;
    if (capture.check()) {
        lastCheck = capture.check();
        const Reference* current = capture.setup().coupler.current();
        checkedAgainst = current != nullptr ? std::optional(*current) : std::nullopt;
    }
    if (capture.secondLevel()) {
        secondLevel = capture.secondLevel();
        secondLevelOf = capture.setup().calibrator.name;
    }
    if (capture.state() == CaptureState::done && capture.outcome())
        conclude();
}

// What moved beyond the usual limits may be no calibrator's tone: somebody has to say that it is meant.
void ReferenceBench::conclude()
{
    if (!capture.outcome()->moved_dB) {
        keepReference(*capture.outcome());
        return;
    }
    waiting = capture.outcome();
    const Reference* current = capture.setup().coupler.current();
    checkedAgainst = current != nullptr ? std::optional(*current) : std::nullopt;
}

void ReferenceBench::keepMoved()
{
    if (!waiting || captures())
        return;
    const ReferenceOutcome meant = *waiting;
    forgetResults();
    endIsPast = false; // it is told as just taken
    refusal.clear();
    keepReference(meant);
}

void ReferenceBench::keepReference(const ReferenceOutcome& outcome)
{
    ReferenceSetup setup = capture.setup();
    setup.now = timeNow();
    keptOutcome = outcome;
    justKept = outcome.kept(setup);
    keptFor = setup.coupler.name;
    secondLevel.reset(); // it was heard for this one
    const auto done = store(keptFor, boundSimulated, [kept = *justKept](Coupler& coupler) -> Outcome<Done> {
        coupler.references.push_back(kept);
        return Done{};
    });
    shown.storeNotice = done ? std::string() : done.fault().sentence;
}

} // namespace couplet
