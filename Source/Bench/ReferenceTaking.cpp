// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReferenceTaking.h"

#include "Bench/ReferenceComparing.h"
#include "Bench/ReferenceNotes.h"
#include "Bench/ReferenceStep.h"
#include "Bench/Seatings.h"
#include "Metrology/Rating.h"
#include "Metrology/Repeats.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

// A correction belongs to one calibrator. With another, or when it is not recorded with which, its certificate counts
// besides.
Correction forThisCalibrator(Correction correction, const ReferenceSetup& setup, std::vector<std::string>& notes)
{
    if (correction.includesCalibrator && correction.calibrator.empty()) {
        correction.includesCalibrator = false;
        notes.emplace_back("with which calibrator the correction was found is not recorded: this calibrator's "
                           "certificate counts besides");
    }
    if (correction.includesCalibrator && !correction.calibrator.empty() &&
        correction.calibrator != setup.calibrator.name) {
        correction.includesCalibrator = false;
        notes.push_back(fmt::format("the correction was found with '{}', not with '{}': this calibrator's certificate "
                                    "counts besides, and the loss itself may differ",
                                    correction.calibrator, setup.calibrator.name));
    }
    return correction;
}

// Each seating must be fit by itself; which one is not, is said when there are several.
bool seatingsAreFit(ReferenceOutcome& out, const std::vector<ToneSummary>& seatings, const ReferenceSetup& setup)
{
    bool fit = true;
    for (std::size_t i = 0; i < seatings.size(); ++i) {
        const auto checks = fitnessChecks(*toneFacts(seatings[i]), setup.calibrator.calibratorClass,
                                          out.certified.frequency, setup.needed_s);
        fit = fit && allPass(checks);
        for (const Check& check : checks)
            if (!check.passes)
                out.notes.push_back(seatings.size() == 1 ? check.reason
                                                         : fmt::format("seating {}: {}", i + 1, check.reason));
    }
    return fit;
}

// What is wrong with a take although its tone passes by itself: each flaw is a check that fails.
void addFlaws(ReferenceOutcome& out, const std::vector<ToneSummary>& seatings)
{
    const auto U_dB = out.expanded ? std::optional(out.expanded->U_dB) : std::nullopt;
    for (std::size_t i = 0; i < seatings.size(); ++i)
        for (const Flaw& flaw : seatings[i].flaws) {
            if (!flaw.withholds(U_dB))
                continue;
            out.fitToUse = false;
            out.checks.push_back({flaw.name, flaw.size, flaw.againstU ? U_dB.value_or(0.0) : flaw.limit, flaw.unit,
                                  false, flaw.sentence});
            out.notes.push_back(seatings.size() == 1 ? flaw.sentence
                                                     : fmt::format("seating {}: {}", i + 1, flaw.sentence));
        }
}

Outcome<Done> addStep(ReferenceOutcome& out, ReferenceInput& input, const ReferenceSetup& setup)
{
    if (!setup.secondLevel) {
        if (!setup.coupler.judged.linearity_dB)
            input.linearity = linearityUnchecked(out.tone.thirdInPhase);
        return Done{};
    }
    const auto step = levelStep(out.tone, *setup.secondLevel, out.certified, setup.calibrator);
    if (!step)
        return step.fault();
    out.step = *step;
    out.warnings.push_back(stepCheck(*step));
    if (!out.warnings.back().passes)
        out.notes.push_back(out.warnings.back().reason);
    if (isGrossMiss(*step)) {
        out.fitToUse = false;
        out.checks.push_back(out.warnings.back());
    }
    input.linearity = linearityTerm(*step);
    return Done{};
}

ReferenceInput inputOf(const ReferenceOutcome& out, const ReferenceSetup& setup)
{
    ReferenceInput input;
    input.certifiedLevel_dB = out.certified.level_dB;
    input.certificateU_dB = out.certified.U_dB;
    input.calibratorClass = setup.calibrator.calibratorClass;
    input.pressureLaw = setup.calibrator.pressureLaw;
    input.pressure = setup.pressure;
    input.correction = out.correction;
    input.tone_dBFS = *out.tone.level_dBFS;
    input.toneU_dB = out.tone.scatter_dB;
    input.frequency = *out.tone.frequency;
    input.judged = setup.coupler.judged;
    if (out.seatings_dBFS.size() > 1)
        input.seating = fromRepeats("seating it again", out.seatings_dBFS,
                                    fmt::format("scatter of {} seatings", out.seatings_dBFS.size()));
    return input;
}

} // namespace

Outcome<ReferenceOutcome> takeReference(const ToneSummary& tone, const ReferenceSetup& setup)
{
    return takeReference(std::vector<ToneSummary>{tone}, setup);
}

Outcome<ReferenceOutcome> takeReference(const std::vector<ToneSummary>& seatings, const ReferenceSetup& setup)
{
    ReferenceOutcome out;
    for (std::size_t i = 0; i < seatings.size(); ++i)
        if (!toneFacts(seatings[i])) {
            out.tone = seatings[i];
            out.notes.push_back(seatings.size() == 1 ? seatings[i].whyNoLevel
                                                     : fmt::format("seating {}: {}", i + 1, seatings[i].whyNoLevel));
            return out;
        }
    out.tone = together(seatings);
    for (const ToneSummary& s : seatings)
        out.seatings_dBFS.push_back(*s.level_dBFS);
    const auto certified = certifiedTone(setup, *out.tone.frequency, *out.tone.level_dBFS);
    if (!certified)
        return certified.fault();
    out.certified = *certified;
    noteLevelTaken(out, setup);
    out.checks =
        fitnessChecks(*toneFacts(out.tone), setup.calibrator.calibratorClass, out.certified.frequency, setup.needed_s);
    out.fitToUse = seatingsAreFit(out, seatings, setup) && allPass(out.checks);
    noteDisturbances(out);
    noteSeatings(out);
    out.correction = setup.correction ? setup.correction : setup.coupler.correction;
    if (setup.correction && !setup.correction->frequency) // typed for the tone that plays
        out.correction->frequency = out.certified.frequency;
    if (out.correction)
        out.correction = forThisCalibrator(*out.correction, setup, out.notes);

    ReferenceInput input = inputOf(out, setup);
    if (const auto added = addStep(out, input, setup); !added)
        return added.fault();
    const auto offset = offsetFrom(input);
    if (!offset)
        return offset.fault();
    out.offset = *offset;
    if (out.correction && !out.correction->frequency)
        out.offset->missing.push_back(
            fmt::format("at which frequency the coupler's correction was found is not recorded, and the tone is at {}: "
                        "find the correction again, or type it for this tone",
                        nominalFrequencyText(out.certified.frequency)));
    if (out.offset->hasUncertainty())
        out.expanded = expand(out.offset->budget);
    addFlaws(out, seatings);
    noteWithinTakes(out, seatings);
    for (const auto& missing : out.offset->missing)
        out.notes.push_back(missing);
    noteWhatIsUnusual(out, setup);
    compareWithHistory(out, setup);
    if (!setup.secondLevel) // of most references: it comes after what is true of this one
        noteLinearity(out, setup);
    return out;
}

std::string whyNotFit(const ReferenceOutcome& outcome)
{
    if (outcome.fitToUse)
        return {};
    if (!outcome.tone.level_dBFS)
        return outcome.tone.whyNoLevel;
    for (const Check& check : outcome.checks)
        if (!check.passes)
            return check.reason;
    return "one of the seatings is not fit to use";
}

Reference ReferenceOutcome::kept(const ReferenceSetup& setup) const
{
    Reference r;
    r.takenAt = setup.now;
    r.offset_dB = offset->level_dB;
    r.addends = offset->addends;
    r.budget = offset->budget;
    r.missing = offset->missing;
    r.calibrator = setup.calibrator.name;
    r.calibratorClass = setup.calibrator.calibratorClass;
    r.tone_dBFS = *tone.level_dBFS;
    r.frequency = *tone.frequency;
    r.sampleRate_Hz = tone.sampleRate_Hz;
    r.channel = setup.channel;
    r.pressure = setup.pressure;
    r.fitToUse = fitToUse;
    r.source = setup.source;
    r.correction = correction;
    r.moved_dB = moved_dB;
    return r;
}

} // namespace couplet
