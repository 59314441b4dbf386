// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of ReferenceCapture from an average that is complete to what it ends with.
#include "Bench/ReferenceCapture.h"

#include "Quantities/Decibels.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace couplet {
namespace {

constexpr int liftedAfter = 4;    // hops, 0.2 s
constexpr double lifted_dB = 0.5; // a calibrator that is moved changes its level by more

const char* liftText = "Lift the calibrator and seat it again; the next seating begins by itself.";

} // namespace

// A seating that is not fit after all costs those before it nothing.
void ReferenceCapture::keep(ToneSummary tone)
{
    tone.stretch_s = std::max(tone.stretch_s, wanted.take_s); // what a sum of hops loses in binary
    complete.reset();
    const auto taken = takeReference(tone, bound);
    std::string why = taken ? std::string() : taken.fault().sentence;
    if (taken && !taken->fitToUse)
        why = whyNotFit(*taken);
    if (!why.empty()) {
        if (kept.empty()) {
            refuse(why);
            return;
        }
        said = why;
        inHand_s = 0.0;
        recent.restart();
        now = CaptureState::waiting;
        return;
    }
    kept.push_back(std::move(tone));
    if (static_cast<int>(kept.size()) >= wanted.seatings) {
        conclude();
        return;
    }
    hopsAway = 0;
    inHand_s = 0.0;
    now = CaptureState::lift;
    said = liftText;
}

void ReferenceCapture::watchLifting(const Estimate& e)
{
    const double before = ratioFrom_dB(*kept.back().level_dBFS);
    const bool away =
        !e.tone.held() || !(e.tone.hopAmplitude > 0.0) || std::abs(decibels(e.tone.hopAmplitude / before)) > lifted_dB;
    hopsAway = away ? hopsAway + 1 : 0;
    if (!e.disturbed && !e.tone.restarted && hopsAway < liftedAfter)
        return;
    recent.restart();
    waited_s = 0.0;
    now = CaptureState::waiting;
    said = "Lifted: seat the calibrator again.";
}

void ReferenceCapture::conclude()
{
    inHand_s = 0.0;
    const auto taken = takeReference(kept, bound);
    if (!taken) {
        refuse(taken.fault().sentence);
        return;
    }
    result = *taken;
    if (!result->fitToUse || !result->offset) {
        refuse(whyNotFit(*result));
        return;
    }
    now = CaptureState::done;
    said.clear();
}

void ReferenceCapture::refuse(std::string reason)
{
    complete.reset();
    inHand_s = 0.0;
    now = CaptureState::refused;
    said = std::move(reason);
}

} // namespace couplet
