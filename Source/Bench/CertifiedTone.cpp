// SPDX-License-Identifier: GPL-3.0-or-later
//
// Which of a calibrator's tones a reference is taken from, and the step to its other level.
#include "Bench/ReferenceTaking.h"

#include "Bench/ReferenceStep.h"
#include "Metrology/Rating.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double sameLevel_dB = 0.005; // two decimals, as certificates print

// The level itself, or the nominal one, a whole number, that stands on the calibrator (94, 104, 114, 124 dB).
bool names(double stated_dB, double certified_dB)
{
    return std::abs(stated_dB - certified_dB) <= sameLevel_dB || stated_dB == std::round(certified_dB);
}

std::vector<CertifiedTone> tonesAt(const Calibrator& calibrator, Hertz frequency)
{
    std::vector<CertifiedTone> tones;
    for (const CertifiedTone& tone : calibrator.tones)
        if (sameRatingFrequency(tone.frequency, frequency))
            tones.push_back(tone);
    return tones;
}

// The level that the last reference makes of what is heard, if it is clearly one of these: nearer to it than a quarter
// of the way to any other.
std::optional<CertifiedTone> asLastTime(const std::vector<CertifiedTone>& tones, const ReferenceSetup& setup,
                                        double tone_dBFS)
{
    const Reference* last = setup.coupler.current();
    const auto& correction = setup.correction ? setup.correction : setup.coupler.correction;
    if (last == nullptr)
        return {};
    double taken_dB = correction ? correction->value_dB : 0.0;
    if (last->calibrator == setup.calibrator.name) // what the coupler took from this one, by that reference
        taken_dB = last->takenOff_dB().value_or(taken_dB);
    const double heard_dB = tone_dBFS + last->offset_dB + taken_dB;
    const auto far = [&](const CertifiedTone& t) { return std::abs(t.level_dB - heard_dB); };
    const auto nearest =
        std::min_element(tones.begin(), tones.end(), [&](const auto& a, const auto& b) { return far(a) < far(b); });
    for (const auto& other : tones)
        if (other.level_dB != nearest->level_dB && far(*nearest) > 0.25 * std::abs(other.level_dB - nearest->level_dB))
            return {};
    return *nearest;
}

} // namespace

Outcome<CertifiedTone> certifiedTone(const ReferenceSetup& setup, Hertz heard, double tone_dBFS)
{
    const Hertz frequency = setup.calibrator.nearest(setup.frequency.value_or(heard)).frequency;
    if (setup.frequency && !sameRatingFrequency(frequency, *setup.frequency))
        return Fault{fmt::format("'{}' has no tone at {}, and its nearest is at {}: choose one that it has",
                                 setup.calibrator.name, nominalFrequencyText(*setup.frequency),
                                 nominalFrequencyText(frequency))};
    auto tones = tonesAt(setup.calibrator, frequency);
    if (setup.level_dB) {
        const CertifiedTone nearest = *std::min_element(tones.begin(), tones.end(), [&](const auto& a, const auto& b) {
            return std::abs(a.level_dB - *setup.level_dB) < std::abs(b.level_dB - *setup.level_dB);
        });
        std::erase_if(tones, [&](const auto& t) { return !names(*setup.level_dB, t.level_dB); });
        if (tones.empty())
            return Fault{fmt::format("'{}' has no {} dB at {}, and its nearest level is {} dB: state that one, or "
                                     "change the calibrator's certified level",
                                     setup.calibrator.name, levelText(*setup.level_dB), nominalFrequencyText(frequency),
                                     levelText(nearest.level_dB))};
    }
    for (const CertifiedTone& other : tones)
        if (other.level_dB != tones.front().level_dB) {
            if (const auto same = asLastTime(tones, setup, tone_dBFS))
                return *same;
            return Fault{fmt::format("'{}' plays {} dB and {} dB at {}: state which level is on (--level)",
                                     setup.calibrator.name, levelText(tones.front().level_dB),
                                     levelText(other.level_dB), nominalFrequencyText(tones.front().frequency))};
        }
    return tones.front();
}

Outcome<LevelStep> levelStep(const ToneSummary& first, const ToneSummary& second, const CertifiedTone& believed,
                             const Calibrator& calibrator)
{
    if (!second.level_dBFS || !second.frequency)
        return Fault{"the calibrator's second level: " + second.whyNoLevel};
    const double step_dB = *second.level_dBFS - *first.level_dBFS;
    std::optional<CertifiedTone> other;
    for (const CertifiedTone& tone : tonesAt(calibrator, believed.frequency)) {
        const double off_dB = std::abs(tone.level_dB - (believed.level_dB + step_dB));
        if (tone.level_dB != believed.level_dB &&
            (!other || off_dB < std::abs(other->level_dB - (believed.level_dB + step_dB))))
            other = tone;
    }
    if (!other)
        return Fault{fmt::format("'{}' has no second level at {}: leave the step out, or add that level to the "
                                 "calibrator",
                                 calibrator.name, nominalFrequencyText(believed.frequency))};
    if (!(std::abs(std::log2(*second.frequency / believed.frequency)) < 0.1))
        return Fault{fmt::format("the second level is at {}, not at {}: play the calibrator's other level at the same "
                                 "frequency",
                                 frequencyText(*second.frequency), nominalFrequencyText(believed.frequency))};
    const double certified_dB = other->level_dB - believed.level_dB;
    if (step_dB * certified_dB <= 0.0 || std::abs(step_dB) < 0.5 * std::abs(certified_dB))
        return Fault{fmt::format("the second level is {} dB from the first, where {} dB are certified: switch the "
                                 "calibrator to its other level",
                                 signedLevelText(step_dB), signedLevelText(certified_dB))};
    return LevelStep{other->level_dB, std::abs(step_dB), std::abs(certified_dB),
                     std::hypot(first.scatter_dB, second.scatter_dB)};
}

} // namespace couplet
