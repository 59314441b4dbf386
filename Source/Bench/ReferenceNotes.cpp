// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReferenceNotes.h"

#include "Metrology/Rating.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double seatingsApart_dB = 0.2; // common practice, no source
constexpr double shown_dB = 0.005;       // less is not seen in two decimals

} // namespace

void noteWhatIsUnusual(ReferenceOutcome& out, const ReferenceSetup& setup)
{
    const auto law = setup.calibrator.pressureLaw.kind;
    if (setup.pressure && law == PressureLaw::Kind::none)
        out.notes.push_back("the pressure was not used: this calibrator regulates itself");
    if (law == PressureLaw::Kind::notStated)
        out.notes.push_back(
            fmt::format("how the calibrator's level follows the static pressure is not stated: {}; state "
                        "that it regulates itself, or that it is a piston source",
                        setup.pressure ? "nothing was corrected for the pressure"
                                       : "the offset holds at 101.325 kPa, and elsewhere only if the "
                                         "calibrator regulates itself"));
    if (!out.correction)
        out.notes.push_back("no correction was given: the calibrator's level is taken to stand at the microphone as it "
                            "is, which holds for a bare microphone alone");
    else if (out.correction->value_dB < 0.0)
        out.notes.push_back("the correction is negative: a coupler takes away from a calibrator's level, as a rule");
    else if (out.correction->value_dB > 6.0)
        out.notes.push_back("the correction is above 6 dB: is a seal open, or the calibrator loose?");
    if (const auto limits = calibratorLimits(setup.calibrator.calibratorClass, out.certified.frequency);
        limits && out.certified.U_dB && setup.calibrator.calibratorClass && *out.certified.U_dB > limits->levelU_dB)
        out.notes.push_back(fmt::format("the certificate's U of {:.2f} dB is above the {:.2f} dB that class {} permits",
                                        *out.certified.U_dB, limits->levelU_dB, *setup.calibrator.calibratorClass));
}

void noteDisturbances(ReferenceOutcome& out)
{
    const ToneSummary& tone = out.tone;
    const std::string times =
        fmt::format("disturbed {} time{}: ", tone.disturbances, tone.disturbances == 1 ? "" : "s");
    if (tone.disturbances > 0)
        out.notes.push_back(out.seatings_dBFS.size() == 1
                                ? fmt::format("{}the longest undisturbed stretch was used, {:.1f} s from {:.1f} s on",
                                              times, tone.stretch_s, tone.start_s)
                                : times + "the longest undisturbed stretch of each seating was used");
}

// One level cannot show a gain that depends on level; what such a gain would have made of the tone can be heard.
void noteLinearity(ReferenceOutcome& out, const ReferenceSetup& setup)
{
    const double third = out.tone.thirdInPhase;
    const BudgetTerm term = linearityUnchecked(third);
    if (term.shape == Shape::rectangular)
        out.notes.push_back(
            fmt::format("the tone's third harmonic of {:.1f} % may be the input's own, as of {}: the level may be off "
                        "by {:.2f} dB{}; "
                        "take the calibrator's second level too",
                        100.0 * std::abs(third),
                        third < 0.0 ? "a limiter that flattens peaks" : "a gain that is less for small signals",
                        shiftBehindThird_dB(third), setup.coupler.judged.linearity_dB ? "" : ", which is in U"));
    out.notes.emplace_back("linearity was not checked: one level cannot show a gain that depends on level, as a "
                           "compressor, a limiter or an automatic gain has; take the calibrator's second level too");
}

void noteSeatings(ReferenceOutcome& out)
{
    if (out.seatings_dBFS.size() < 2)
        return;
    const auto [low, high] = std::minmax_element(out.seatings_dBFS.begin(), out.seatings_dBFS.end());
    if (*high - *low > seatingsApart_dB)
        out.notes.push_back(fmt::format("the seatings differ by {:.2f} dB: seat the calibrator fully each time, and "
                                        "take them again",
                                        *high - *low));
}

// Told apart by the last reference, a gain that moved by just that step would look like the other level.
void noteLevelTaken(ReferenceOutcome& out, const ReferenceSetup& setup)
{
    if (setup.level_dB) {
        if (std::abs(*setup.level_dB - out.certified.level_dB) >= shown_dB)
            out.notes.push_back(fmt::format("{:g} dB names the calibrator's level that is certified as {} dB, which "
                                            "counts",
                                            *setup.level_dB, levelText(out.certified.level_dB)));
        return;
    }
    for (const CertifiedTone& other : setup.calibrator.tones)
        if (other.level_dB != out.certified.level_dB && sameRatingFrequency(other.frequency, out.certified.frequency)) {
            out.notes.push_back(fmt::format(
                "taken for the calibrator's {} dB, by the last reference; a gain that moved "
                "by the {} dB to its other level would look the same",
                levelText(out.certified.level_dB), levelText(std::abs(other.level_dB - out.certified.level_dB))));
            return;
        }
}

void noteWithinTakes(ReferenceOutcome& out, const std::vector<ToneSummary>& seatings)
{
    for (std::size_t i = 0; i < seatings.size(); ++i)
        if (seatings[i].clippedElsewhere > 0) {
            const auto sentence = clippedElsewhereSentence(seatings[i]);
            out.notes.push_back(seatings.size() == 1 ? sentence : fmt::format("seating {}: {}", i + 1, sentence));
        }
    for (const ToneSummary& s : seatings)
        if (s.onset)
            out.notes.push_back(onsetSentence(*s.onset));
}

} // namespace couplet
