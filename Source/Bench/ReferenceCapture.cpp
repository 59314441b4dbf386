// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReferenceCapture.h"

#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double steadyFor_s = 2.9; // sixty hops less two at the edge
constexpr double shortTake_s = 3.0;
constexpr double shortPatience_s = 6.0;
constexpr std::size_t certainAfter = 6; // hops: a slip is known five after it, and lies before them
constexpr int toneLostAfter = 20;       // hops, 1 s
constexpr double tellAfter_s = 0.5;
constexpr double slip_dB = 0.02;
constexpr double settled_s = 0.2;   // the stretch's first hops: what clipped before them is not its own
constexpr double byItself_dB = 3.0; // an earphone's tone may be steady too

} // namespace

bool ReferenceCapture::runs() const
{
    return now == CaptureState::armed || now == CaptureState::waiting || now == CaptureState::capturing ||
           now == CaptureState::lift;
}

void ReferenceCapture::start(const ReferenceSetup& setup, const CaptureWish& wish)
{
    wanted = wish;
    wanted.seatings = wanted.kind == CaptureKind::reference ? std::clamp(wanted.seatings, 1, 9) : 1;
    bound = setup;
    bound.needed_s = wanted.kind == CaptureKind::reference ? wanted.take_s : shortTake_s;
    kept.clear();
    result.reset();
    checked.reset();
    second.reset();
    complete.reset();
    said.clear();
    waited_s = inHand_s = 0.0;
    restartCount = 0;
    if (wanted.kind != CaptureKind::reference) // three seconds from now
        recent.restart();
    now = wanted.handsFree && wanted.kind == CaptureKind::reference ? CaptureState::armed : CaptureState::waiting;
}

void ReferenceCapture::streamBegins()
{
    recent.restart();
    lastHop = 0;
    if (now == CaptureState::capturing) {
        ++restartCount;
        complete.reset();
        inHand_s = 0.0;
        now = CaptureState::waiting;
        said = "The audio began anew: the count restarts.";
    }
}

void ReferenceCapture::cancel()
{
    if (!runs())
        return;
    kept.clear();
    complete.reset();
    inHand_s = 0.0;
    now = CaptureState::cancelled;
    said = "Cancelled: nothing was kept.";
}

void ReferenceCapture::finish()
{
    if (runs() && !kept.empty())
        conclude();
}

void ReferenceCapture::undoSeating()
{
    if (!runs() || kept.empty())
        return;
    kept.pop_back();
    complete.reset();
    inHand_s = waited_s = 0.0;
    said = fmt::format("Seating {} was dropped: seat the calibrator again.", kept.size() + 1);
    recent.restart();
    now = wanted.handsFree ? CaptureState::armed : CaptureState::waiting;
}

void ReferenceCapture::add(const Estimate& e)
{
    const bool gap = lastHop != 0 && e.hop != lastHop + 1;
    if (gap)
        streamBegins();
    lastHop = e.hop;
    recent.add(e);
    switch (now) {
    case CaptureState::armed:
    case CaptureState::waiting:
        wait(e);
        break;
    case CaptureState::capturing:
        capture(e);
        break;
    case CaptureState::lift:
        watchLifting(e);
        break;
    case CaptureState::idle:
    case CaptureState::done:
    case CaptureState::refused:
    case CaptureState::cancelled:
        break;
    }
}

// Why the average cannot begin; empty when it can.
std::string ReferenceCapture::whyNotYet(const ToneSummary& tone) const
{
    const auto facts = toneFacts(tone);
    if (!facts)
        return tone.whyNoLevel;
    const auto certified = certifiedTone(bound, facts->frequency, *tone.level_dBFS);
    if (!certified)
        return certified.fault().sentence;
    for (const Check& check :
         fitnessChecks(*facts, bound.calibrator.calibratorClass, certified->frequency, steadyFor_s))
        if (!check.passes)
            return check.reason;
    return {};
}

// A tone that nobody asked to be taken must look like the calibrator of last time.
std::string ReferenceCapture::whyNotByItself(const ToneSummary& tone) const
{
    const Reference* last = bound.coupler.current();
    if (now != CaptureState::armed || last == nullptr || !tone.level_dBFS)
        return {};
    const auto taken = takeReference(tone, bound);
    if (!taken || !taken->offset)
        return {};
    const double change_dB = taken->history.change_dB.value_or(0.0); // of the chain, whatever correction is in force
    if (std::abs(change_dB) <= byItself_dB)
        return {};
    return fmt::format("a steady tone is there, but {} dB from the calibrator's of the last reference: is it the "
                       "calibrator? Then take the reference by hand",
                       signedLevelText(-change_dB));
}

void ReferenceCapture::wait(const Estimate& e)
{
    waited_s += e.hop_s;
    if (wanted.kind != CaptureKind::reference) {
        shortTake();
        return;
    }
    const ToneSummary tone = recent.summary();
    std::string why = whyNotYet(tone);
    if (why.empty())
        why = whyNotByItself(tone);
    if (why.empty()) {
        beginAverage(e);
        return;
    }
    said = why;
    if (now == CaptureState::waiting && kept.empty() && waited_s > wanted.patience_s)
        refuse(why);
}

// Three seconds are all there is to a quick check or a second level.
void ReferenceCapture::shortTake()
{
    const ToneSummary tone = recent.summary();
    const std::string why = whyNotYet(tone);
    inHand_s = std::min(tone.level_dBFS ? tone.stretch_s : 0.0, shortTake_s);
    said = why;
    const bool over = waited_s > shortPatience_s;
    if ((!why.empty() || waited_s < shortTake_s) && !over)
        return;
    if (wanted.kind == CaptureKind::quickCheck) {
        checked = quickCheck(tone, bound);
        said = checked->sentence;
        now = checked->verdict == QuickCheck::Verdict::cannotTell ? CaptureState::refused : CaptureState::done;
        return;
    }
    if (!why.empty()) {
        refuse(why);
        return;
    }
    second = tone;
    said = "The calibrator's second level was heard: the next reference shows the step.";
    now = CaptureState::done;
}

void ReferenceCapture::beginAverage(const Estimate& e)
{
    average = StretchFinder{};
    disturbancesSeen = hopsWithoutTone = 0;
    before_dBFS = recent.summary().level_dBFS;
    levels_dBFS.clear();
    tellSlip = false;
    peak = 0.0;
    clippedBefore = e.clippedSamples;
    brokenBefore = e.brokenSamples;
    complete.reset();
    inHand_s = 0.0;
    now = CaptureState::capturing;
    said.clear();
}

// Half a second after a disturbance the level tells a slip from a mere knock.
void ReferenceCapture::tellWhatHappened(const ToneSummary& tone)
{
    if (!tone.level_dBFS || tone.stretch_s < tellAfter_s)
        return;
    if (tellSlip) {
        const double moved_dB = *tone.level_dBFS - *before_dBFS;
        said = std::abs(moved_dB) > slip_dB
                   ? fmt::format("The level moved by {} dB: the count restarts.", signedLevelText(moved_dB))
                   : "A knock: the count restarts.";
        tellSlip = false;
    }
    levels_dBFS.push_back(*tone.level_dBFS);
    if (levels_dBFS.size() > certainAfter)
        levels_dBFS.pop_front();
    before_dBFS = levels_dBFS.front();
}

void ReferenceCapture::capture(const Estimate& e)
{
    average.add(e);
    peak = std::max(peak, e.hopPeak);
    hopsWithoutTone = e.tone.held() ? 0 : hopsWithoutTone + 1;
    ToneSummary tone = average.newest();
    if (tone.disturbances > disturbancesSeen) {
        disturbancesSeen = tone.disturbances;
        ++restartCount;
        complete.reset();
        said = "A knock or a slipped seat: the count restarts.";
        tellSlip = before_dBFS.has_value();
        levels_dBFS.clear();
    }
    tellWhatHappened(tone);
    inHand_s = std::min(tone.level_dBFS ? tone.stretch_s : 0.0, wanted.take_s);
    if (inHand_s < settled_s) {
        peak = 0.0;
        clippedBefore = e.clippedSamples;
        brokenBefore = e.brokenSamples;
    }
    if (hopsWithoutTone >= toneLostAfter) {
        now = CaptureState::waiting;
        waited_s = 0.0;
        return;
    }
    constexpr double roundOff_s = 1e-6;
    if (!complete && tone.level_dBFS && tone.stretch_s >= wanted.take_s - roundOff_s) {
        tone.disturbances = 0; // what was, is left out
        tone.clippedSamples = e.clippedSamples - clippedBefore;
        tone.brokenSamples = e.brokenSamples - brokenBefore;
        tone.headroom_dB = peak > 0.0 ? std::optional(headroomOf(peak)) : std::nullopt;
        tone.onset = recent.summary().onset;
        complete = tone;
        hopsSinceComplete = 0;
        return;
    }
    if (complete && ++hopsSinceComplete >= static_cast<int>(certainAfter))
        keep(*complete);
}

} // namespace couplet
