// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/QuickCheck.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double shortestStretch_s = 2.8; // of the three seconds: the tone may have been found just now
constexpr double gainNear_dB = 0.1;
constexpr double largestGain_dB = 60.0;
constexpr double doubling_dB = 6.0205999132796239; // 20 lg 2
// What a seat that is not full, a battery or a bias voltage takes from the level; more is a gain.
constexpr double mostSeating_dB = 3.0;
constexpr double falling_dBPerSecond = 0.005; // slower ones are warmth
constexpr double slopeSigmas = 3.0;

bool falls(const ToneSummary& tone)
{
    return tone.slope_dBPerSecond < -falling_dBPerSecond &&
           -tone.slope_dBPerSecond > slopeSigmas * tone.slopeU_dBPerSecond;
}

bool isUnsteady(const ReferenceOutcome& outcome)
{
    return std::any_of(outcome.checks.begin(), outcome.checks.end(), [](const Check& c) {
        return !c.passes && (c.name.rfind("steady", 0) == 0 || c.name.rfind("undisturbed", 0) == 0);
    });
}

std::vector<std::string> causesOf(const ReferenceOutcome& outcome, std::optional<double> change_dB)
{
    std::vector<std::string> causes;
    const bool falling = falls(outcome.tone);
    if (falling)
        causes.push_back(fmt::format("the calibrator's battery or the microphone's bias voltage: the level falls by "
                                     "{:.3f} dB/s",
                                     -outcome.tone.slope_dBPerSecond));
    if (isUnsteady(outcome) && !falling)
        causes.emplace_back("the seating: the level does not stand still");
    if (!change_dB)
        return causes;
    const double tone_dB = -*change_dB; // a tone that reads higher makes the offset smaller
    const auto gain = gainStepNear(tone_dB);
    if (gain)
        causes.push_back(fmt::format("the input's gain: the tone is {} dB {} than it was, a step of {:.2f} dB",
                                     levelText(std::abs(tone_dB)), tone_dB > 0.0 ? "higher" : "lower",
                                     std::abs(*gain)));
    if (!gain && tone_dB < 0.0 && tone_dB > -mostSeating_dB)
        causes.emplace_back("the seating: a calibrator that is not fully on, or a seal that leaks, lowers the tone");
    if (!gain)
        causes.emplace_back("the input's gain: compare its position with the gain noted");
    if (!falling && tone_dB < 0.0 && tone_dB > -mostSeating_dB)
        causes.emplace_back("the calibrator's battery, or the microphone's bias voltage");
    return causes;
}

} // namespace

std::optional<double> gainStepNear(double change_dB)
{
    for (const double unit : {doubling_dB, 10.0}) {
        const double steps = std::round(change_dB / unit);
        const double step_dB = steps * unit;
        if (steps != 0.0 && std::abs(step_dB) <= largestGain_dB + gainNear_dB &&
            std::abs(change_dB - step_dB) <= gainNear_dB)
            return step_dB;
    }
    return std::nullopt;
}

QuickCheck quickCheck(const ToneSummary& tone, ReferenceSetup setup)
{
    QuickCheck check;
    const Reference* last = setup.coupler.current();
    if (last == nullptr) {
        check.sentence = fmt::format("'{}' has no reference yet: take one", setup.coupler.name);
        return check;
    }
    check.since = last->takenAt;
    setup.needed_s = shortestStretch_s;
    const auto taken = takeReference(tone, setup);
    if (!taken) {
        check.sentence = "cannot be told: " + taken.fault().sentence;
        return check;
    }
    check.outcome = *taken;
    const ReferenceOutcome& outcome = *check.outcome;
    if (!outcome.offset) {
        check.sentence = "cannot be told: " + outcome.tone.whyNoLevel;
        return check;
    }
    check.change_dB = outcome.history.change_dB;
    if (outcome.correctionChange_dB)
        check.correctionNote = fmt::format("the correction is another than at that reference: the next one's offset "
                                           "moves by {} dB for that alone",
                                           signedLevelText(*outcome.correctionChange_dB));
    check.allowed_dB = outcome.history.allowedChange_dB;
    const bool within = std::abs(*check.change_dB) <= check.allowed_dB;
    const std::string by = signedLevelText(*check.change_dB) + " dB since the reference of " + last->takenAt;
    if (!outcome.fitToUse) {
        std::string why;
        for (const Check& c : outcome.checks)
            if (!c.passes)
                why += (why.empty() ? "" : "; ") + c.reason;
        check.sentence = fmt::format("cannot be told: {} ({})", why, by);
        check.causes = causesOf(outcome, within ? std::nullopt : check.change_dB);
        return check;
    }
    check.verdict = within ? QuickCheck::Verdict::holds : QuickCheck::Verdict::moved;
    check.causes = causesOf(outcome, within ? std::nullopt : check.change_dB);
    check.sentence = within ? fmt::format("holds: {} (within {:.2f} dB)", by, check.allowed_dB)
                            : fmt::format("moved by {} (within {:.2f} dB is usual)", by, check.allowed_dB);
    return check;
}

} // namespace couplet
