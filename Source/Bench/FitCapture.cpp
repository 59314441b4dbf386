// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitCapture.h"

#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace couplet {
namespace {

constexpr double steadyFor_s = 2.0, take_s = 2.0;
constexpr double aboveNoise_dB = 30.0;
constexpr int certainAfter = 6;     // hops: a slip is known five after it, and lies before them
constexpr double gone_dB = 6.0;     // more than fittings differ when they are merely pressed anew
constexpr int goneAfter = 4;        // hops, 0.2 s
constexpr int toneLostAfter = 20;   // hops, 1 s
constexpr int tellRestartFor = 20;  // hops: what a knock leaves behind is no news
constexpr double roundOff_s = 1e-6; // what a sum of hops loses in binary
constexpr double roundOff_dB = 1e-9;

const char* liftText = "Read. Take the tone away, fit anew; the next reading begins by itself.";
const char* sameSeatingText =
    "Take the tone away first: this seating is read already. Fit anew, and it begins by itself.";
const char* readyText = "Gone: fit anew and press home.";

} // namespace

void FitCapture::start(bool handsFree)
{
    goesOn = handsFree;
    result.reset();
    complete.reset();
    kept_s = 0.0;
    hopsWithoutTone = 0;
    hopsSinceRestart = tellRestartFor;
    said = toGoAway ? sameSeatingText : "";
    now = toGoAway ? FitCaptureState::lift : FitCaptureState::waiting;
}

void FitCapture::cancel()
{
    now = FitCaptureState::off;
    complete.reset();
    kept_s = 0.0;
    said.clear();
}

void FitCapture::giveUp(std::string why)
{
    if (now != FitCaptureState::reading)
        return;
    amplitudeRead = ratioFrom_dB(recent.summary().level_dBFS.value_or(-1000.0));
    complete.reset();
    kept_s = 0.0;
    hopsAway = hopsWithoutTone = 0;
    toGoAway = true;
    said = std::move(why);
    now = FitCaptureState::lift;
}

double FitCapture::progress() const
{
    return now == FitCaptureState::reading ? std::min(1.0, kept_s / take_s) : 0.0;
}

std::optional<ToneSummary> FitCapture::taken()
{
    return std::exchange(result, std::nullopt);
}

// After a reading the tone has still to go away: a gap in the audio is no lifting.
void FitCapture::streamBegins()
{
    recent.restart();
    lastHop = 0;
    hopsAway = hopsWithoutTone = 0;
    if (now == FitCaptureState::reading)
        restart("The audio began anew: the reading restarts.");
}

void FitCapture::add(const Estimate& e)
{
    if (lastHop != 0 && e.hop != lastHop + 1)
        streamBegins();
    lastHop = e.hop;
    recent.add(e);
    switch (now) {
    case FitCaptureState::waiting:
        wait(e);
        break;
    case FitCaptureState::reading:
        read(e);
        break;
    case FitCaptureState::lift:
        watchLifting(e);
        break;
    case FitCaptureState::off:
        if (toGoAway)
            watchLifting(e);
        break;
    }
}

// Why this tone is none to read; empty when it is one.
std::string FitCapture::hindrance(const ToneSummary& tone) const
{
    if (!tone.level_dBFS)
        return tone.whyNoLevel;
    if (tone.clippedSamples > 0)
        return "The input is clipped: lower its gain.";
    if (tone.brokenSamples > 0)
        return brokenSentence(tone.brokenSamples);
    if (tone.noise_dBFS && *tone.level_dBFS - *tone.noise_dBFS < aboveNoise_dB)
        return fmt::format("The tone is only {:.0f} dB above the noise: raise the input's gain or keep the room quiet.",
                           *tone.level_dBFS - *tone.noise_dBFS);
    const double drift_dB = std::abs(tone.slope_dBPerSecond) * steadyFor_s;
    if (drift_dB > straying_dB && std::abs(tone.slope_dBPerSecond) > 2.0 * tone.slopeU_dBPerSecond)
        return fmt::format("The level creeps by {} dB a second: press the adapter home and keep it still.",
                           signedLevelText(tone.slope_dBPerSecond));
    if (tone.steadiness_dB && *tone.steadiness_dB > straying_dB + roundOff_dB)
        return fmt::format("The level strays by {} dB: press the adapter home and keep it still.",
                           levelText(*tone.steadiness_dB));
    return {};
}

void FitCapture::wait(const Estimate& e)
{
    const ToneSummary tone = recent.summary();
    auto why = hindrance(tone);
    if (why.empty())
        why = held;
    if (why.empty() && tone.steadiness_dB && tone.stretch_s >= steadyFor_s - roundOff_s)
        return beginAverage(e);
    if (++hopsSinceRestart > tellRestartFor)
        said = why.empty() ? "A tone: it is read when it has been steady for two seconds." : why;
}

void FitCapture::beginAverage(const Estimate& e)
{
    average = StretchFinder{};
    complete.reset();
    kept_s = 0.0;
    hopsWithoutTone = 0;
    clippedBefore = e.clippedSamples;
    brokenBefore = e.brokenSamples;
    said.clear();
    now = FitCaptureState::reading;
}

void FitCapture::restart(std::string why)
{
    complete.reset();
    kept_s = 0.0;
    hopsSinceRestart = 0;
    said = std::move(why);
    now = FitCaptureState::waiting;
}

void FitCapture::read(const Estimate& e)
{
    if (!held.empty())
        return restart(held);
    average.add(e);
    ToneSummary tone = average.newest();
    if (tone.disturbances > 0)
        return restart("A knock or a slip: the reading restarts.");
    hopsWithoutTone = e.tone.held() ? 0 : hopsWithoutTone + 1;
    if (hopsWithoutTone >= toneLostAfter)
        return restart("The tone went away: the reading restarts.");
    kept_s = tone.level_dBFS ? tone.stretch_s : 0.0;
    tone.clippedSamples = e.clippedSamples - clippedBefore;
    tone.brokenSamples = e.brokenSamples - brokenBefore;
    if (!complete && kept_s >= take_s - roundOff_s)
        complete = tone;
    else if (complete && ++hopsSinceComplete >= certainAfter)
        return keep();
    if (!complete)
        hopsSinceComplete = 0;
}

void FitCapture::keep()
{
    if (auto why = hindrance(*complete); !why.empty())
        return restart(std::move(why));
    amplitudeRead = ratioFrom_dB(*complete->level_dBFS);
    result = std::exchange(complete, std::nullopt);
    kept_s = 0.0;
    hopsAway = hopsWithoutTone = 0;
    wasSeatedAnew = std::exchange(awayBetween, false);
    toGoAway = true;
    now = goesOn ? FitCaptureState::lift : FitCaptureState::off;
    said = goesOn ? liftText : "";
}

// A knock is louder than the tone and hides it at most for a moment: neither is the tone gone.
void FitCapture::watchLifting(const Estimate& e)
{
    const double low = amplitudeRead * ratioFrom_dB(-gone_dB);
    const bool away = e.hopPeak < low || (e.tone.held() && e.tone.hopAmplitude < low);
    hopsAway = away ? hopsAway + 1 : 0;
    hopsWithoutTone = e.tone.held() ? 0 : hopsWithoutTone + 1;
    if (hopsAway < goneAfter && hopsWithoutTone < toneLostAfter)
        return;
    recent.restart();
    toGoAway = false;
    awayBetween = true;
    if (now == FitCaptureState::off)
        return;
    hopsSinceRestart = 0;
    said = readyText;
    now = FitCaptureState::waiting;
}

} // namespace couplet
