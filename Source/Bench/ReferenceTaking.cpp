// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReferenceTaking.h"

#include "Metrology/Rating.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

// The certified tone that is meant. Two levels at one frequency cannot be told apart by listening.
Outcome<CertifiedTone> toneOf(const ReferenceSetup& setup, Hertz heard)
{
    const CertifiedTone tone = setup.calibrator.nearest(setup.frequency.value_or(heard));
    for (const CertifiedTone& other : setup.calibrator.tones)
        if (other.level_dB != tone.level_dB && sameRatingFrequency(other.frequency, tone.frequency))
            return Fault{fmt::format("'{}' plays {} dB and {} dB at {}: say which with --level", setup.calibrator.name,
                                     levelText(tone.level_dB), levelText(other.level_dB),
                                     nominalFrequencyText(tone.frequency))};
    return tone;
}

// A correction belongs to one calibrator. With another, its certificate counts besides.
Correction forThisCalibrator(Correction correction, const ReferenceSetup& setup, std::vector<std::string>& notes)
{
    if (correction.includesCalibrator && !correction.calibrator.empty() &&
        correction.calibrator != setup.calibrator.name) {
        correction.includesCalibrator = false;
        notes.push_back(fmt::format("the correction was found with '{}', not with '{}': this calibrator's certificate "
                                    "counts besides, and the loss itself may differ",
                                    correction.calibrator, setup.calibrator.name));
    }
    return correction;
}

void noteWhatIsUnusual(ReferenceOutcome& out, const ReferenceSetup& setup)
{
    if (setup.pressure && setup.calibrator.pressureLaw.kind == PressureLaw::Kind::none)
        out.notes.push_back(
            "the pressure was not used: this calibrator is taken to regulate itself; a pistonphone needs "
            "--pressure-law piston");
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

void compareWithHistory(ReferenceOutcome& out, const ReferenceSetup& setup)
{
    std::vector<double> kept;
    for (const Reference& r : setup.coupler.references)
        if (r.fitToUse && r.setAside.empty())
            kept.push_back(r.offset_dB);
    out.history = checkAgainstHistory(out.offset->level_dB, kept);
    if (kept.empty())
        out.notes.push_back("the first reference of this coupler: there is none to compare it with");
    if (out.history.change_dB && std::abs(*out.history.change_dB) > out.history.allowedChange_dB)
        out.notes.push_back(
            fmt::format("moved by {:+.2f} dB since the last reference (within {:.2f} dB is usual): was a "
                        "gain changed, or is the calibrator not seated?",
                        *out.history.change_dB, out.history.allowedChange_dB));
    else if (out.history.withinLimits == false)
        out.notes.push_back("outside the control limits of the references kept so far: was a gain changed, or is the "
                            "calibrator not seated?");
}

} // namespace

Outcome<ReferenceOutcome> takeReference(const ToneSummary& tone, const ReferenceSetup& setup)
{
    ReferenceOutcome out;
    out.tone = tone;
    const auto facts = toneFacts(tone);
    if (!facts) {
        out.notes.push_back(tone.whyNoLevel);
        return out;
    }
    const auto certified = toneOf(setup, facts->frequency);
    if (!certified)
        return certified.fault();
    out.certified = *certified;
    out.checks = fitnessChecks(*facts, setup.calibrator.calibratorClass, out.certified.frequency, shortestReference_s);
    out.fitToUse = allPass(out.checks);
    for (const Check& check : out.checks)
        if (!check.passes)
            out.notes.push_back(check.reason);
    if (tone.disturbances > 0)
        out.notes.push_back(fmt::format("disturbed {} time{}: the longest undisturbed stretch was used, {:.1f} s from "
                                        "{:.1f} s on",
                                        tone.disturbances, tone.disturbances == 1 ? "" : "s", tone.stretch_s,
                                        tone.start_s));
    out.correction = setup.correction ? setup.correction : setup.coupler.correction;
    if (out.correction)
        out.correction = forThisCalibrator(*out.correction, setup, out.notes);

    ReferenceInput input;
    input.certifiedLevel_dB = out.certified.level_dB;
    input.certificateU_dB = out.certified.U_dB;
    input.calibratorClass = setup.calibrator.calibratorClass;
    input.pressureLaw = setup.calibrator.pressureLaw;
    input.pressure = setup.pressure;
    input.correction = out.correction;
    input.tone_dBFS = *tone.level_dBFS;
    input.toneU_dB = tone.scatter_dB;
    input.frequency = facts->frequency;
    const auto offset = offsetFrom(input);
    if (!offset)
        return offset.fault();
    out.offset = *offset;
    if (out.offset->hasUncertainty())
        out.expanded = expand(out.offset->budget);
    for (const auto& missing : out.offset->missing)
        out.notes.push_back(missing);
    noteWhatIsUnusual(out, setup);
    compareWithHistory(out, setup);
    return out;
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
    return r;
}

} // namespace couplet
