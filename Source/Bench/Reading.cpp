// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/Reading.h"

#include "Bench/ReadingNotes.h"
#include "Metrology/CouplerTolerance.h"
#include "Metrology/Expanded.h"
#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

// A sensed drive is this tone for the most part, and steady (method of this product, no source).
constexpr double leastDriveShare = 0.5, mostDriveSpread_dB = 0.1;

void noteMissing(Reading& r, const Figure& figure)
{
    for (const auto& missing : figure.missing)
        if (std::find(r.notes.begin(), r.notes.end(), missing) == r.notes.end())
            r.notes.push_back(missing);
}

std::optional<Expanded> expandedOf(const Figure& figure)
{
    return figure.hasUncertainty() ? std::optional(expand(figure.budget)) : std::nullopt;
}

// -(R(f) - R(f_cal)) from the coupler's response table, when it has one that reaches both.
std::optional<double> responseAddend_dB(Reading& r, const Setup& setup)
{
    if (!setup.coupler || setup.coupler->response.empty() || setup.coupler->current() == nullptr)
        return {};
    const auto here = responseAt_dB(setup.coupler->response, *r.tone.frequency);
    const auto there = responseAt_dB(setup.coupler->response, setup.coupler->current()->frequency);
    if (here && there)
        return *there - *here;
    r.notes.push_back("the microphone's response table does not reach this frequency: nothing is taken out");
    return {};
}

void measure(Reading& r, const Setup& setup)
{
    const auto offset = offsetInForce(setup);
    if (!offset) {
        r.measured = Figure{*r.tone.level_dBFS, {{"tone at the input", *r.tone.level_dBFS}}, {}, {}};
        const std::string why = setup.coupler
                                    ? fmt::format("coupler '{}' has no reference: the level is dBFS until one is taken",
                                                  setup.coupler->name)
                                    : std::string("no coupler and no offset: the level is dBFS");
        r.measured->missing.push_back(why);
        r.notes.push_back(why);
        return;
    }
    r.referenced = true;
    MeasuredInput input;
    input.tone_dBFS = *r.tone.level_dBFS;
    input.frequency = *r.tone.frequency;
    input.offset = *offset;
    input.response_dB = responseAddend_dB(r, setup);
    if (setup.coupler) {
        const JudgedTerms& judged = setup.coupler->judged;
        input.responseU_dB = judged.response_dB.value_or(assumedResponse_dB);
        input.responseObtained = howJudged(judged.response_dB.has_value());
        input.insertionU_dB = judged.insertion_dB.value_or(assumedInsertion_dB);
        input.insertionObtained = howJudged(judged.insertion_dB.has_value());
    }
    input.steadinessU_dB = r.tone.scatter_dB;
    input.humBoundU_dB = r.tone.humBound_dB / std::numbers::sqrt3;
    r.measured = measuredLevel(input);
    r.measuredU = expandedOf(*r.measured);
    noteMissing(r, *r.measured);
}

// What keeps a sensed drive from being believed; empty: nothing.
std::string whyNoDrive(const ToneSummary& t)
{
    if (!t.second_dBFS || t.secondShare < leastDriveShare)
        return fmt::format("only {:.0f} % of what is on it is this tone; is it the right channel, and connected?",
                           100.0 * t.secondShare);
    if (t.secondClipped)
        return "it is clipped; lower its gain and teach its full scale anew";
    if (t.secondSpread_dB && *t.secondSpread_dB > mostDriveSpread_dB)
        return fmt::format("its level moved by \u00b1{:.2f} dB; hold the drive still and take it again",
                           *t.secondSpread_dB);
    return {};
}

std::optional<Drive> driveOf(Reading& r, const Setup& setup)
{
    if (!setup.driveFullScale)
        return setup.drive;
    if (const std::string why = whyNoDrive(r.tone); !why.empty()) {
        r.notes.push_back("the drive cannot be had from its channel: " + why);
        return {};
    }
    Drive sensed = setup.drive.value_or(Drive{});
    sensed.sensed = true;
    sensed.voltage = Volts(setup.driveFullScale->value * ratioFrom_dB(*r.tone.second_dBFS));
    return sensed;
}

void expect(Reading& r, const Setup& setup)
{
    if (!setup.earphone) {
        r.notes.push_back("no earphone and no rating were given: nothing is expected");
        return;
    }
    if (!r.drive) {
        if (!setup.driveFullScale)
            r.notes.push_back("no drive voltage was given: the expected level cannot be had");
        return;
    }
    const auto expected = expectedLevel(setup.earphone->rating, *r.drive, *r.tone.frequency);
    if (!expected) {
        r.notes.push_back(expected.fault().sentence);
        return;
    }
    r.expected = *expected;
    r.expectedU = expandedOf(*r.expected);
    noteMissing(r, *r.expected);
}

// How the coupler stands between its reference's frequency and this tone's.
Figure betweenCouplers(const Reading& r, const Setup& setup)
{
    CouplerStep step;
    step.tone = *r.tone.frequency;
    if (setup.coupler) {
        step.kind = couplerKindFrom(setup.coupler->kind);
        step.reference = setup.coupler->current()->frequency;
        step.set_dB = setup.coupler->judged.coupler_dB;
    }
    else if (setup.offset) {
        step.reference = setup.offset->frequency;
    }
    return couplerBetween(step);
}

void judge(Reading& r, const Setup& setup)
{
    if (!r.referenced || !r.measured || !r.expected)
        return;
    const Figure between = betweenCouplers(r, setup);
    r.difference = compare(*r.measured, *r.expected, setup.largestU_dB, between);
    noteMissing(r, between);
    if (r.tone.clippedSamples > 0 || r.isUnfit())
        return;
    r.verdict = r.difference->verdict;
    if (r.verdict == Verdict::tooUncertain)
        r.notes.push_back(fmt::format("too uncertain to say: U is {:.2f} dB and at most {:.2f} dB is allowed; the term "
                                      "to improve is '{}'",
                                      roundedUp_dB(r.difference->expanded->U_dB), setup.largestU_dB,
                                      r.difference->termToImprove));
    if (r.tookPartInCorrection)
        r.notes.push_back("this earphone took part in choosing the coupler's correction: that it agrees is no proof");
}

void findSensitivity(Reading& r, const Setup& setup)
{
    if (!r.referenced || !r.measured || !r.drive)
        return;
    const auto impedance = setup.earphone ? setup.earphone->rating.impedance : std::nullopt;
    double loss_dB = 0.0;
    if (r.drive->source && r.drive->source->value > 0.0) {
        if (!impedance)
            return; // what reaches the terminals is not known
        loss_dB = loadLoss_dB(*impedance, *r.drive->source);
    }
    const double perVolt = r.measured->level_dB - decibels(r.drive->voltage.value) - loss_dB;
    r.sensitivity.dBSPLPerVolt = perVolt;
    r.sensitivity.terminalVoltsFor94 = terminalVoltageFor(94.0, perVolt);
    if (impedance)
        r.sensitivity.dBSPLPerMilliwatt = sensitivity_dBPerMilliwatt(perVolt, *impedance);
}

} // namespace

bool Reading::isUnfit() const
{
    const auto U_dB = measuredU ? std::optional(measuredU->U_dB) : std::nullopt;
    return std::any_of(tone.flaws.begin(), tone.flaws.end(), [&](const Flaw& f) { return f.withholds(U_dB); });
}

bool Reading::answersNo() const
{
    return !measured || tone.clippedSamples > 0 || (isJudged && verdict != Verdict::agrees);
}

std::optional<Figure> offsetInForce(const Setup& setup)
{
    if (setup.coupler) {
        const Reference* reference = setup.coupler->current();
        if (reference == nullptr)
            return {};
        return Figure{reference->offset_dB, reference->addends, reference->budget, reference->missing};
    }
    if (!setup.offset)
        return {};
    Figure typed{setup.offset->offset_dB, {{"offset, typed", setup.offset->offset_dB}}, {}, {}};
    if (setup.offset->U_dB)
        typed.budget.push_back(fromCertificate("offset", *setup.offset->U_dB, 2.0, "typed"));
    else
        typed.missing.push_back("the offset's uncertainty is not stated");
    return typed;
}

Reading makeReading(const ToneSummary& tone, const Setup& setup)
{
    Reading r;
    r.tone = tone;
    r.coupler = setup.coupler ? setup.coupler->name : "";
    r.earphone = setup.earphone ? setup.earphone->name : "";
    r.side = setup.side;
    r.isJudged = setup.earphone.has_value();
    if (setup.coupler && setup.earphone) {
        // Who chose the correction that is in the reference; where that is not recorded, the coupler's.
        const auto& chose = setup.earphone->choseCorrectionOf;
        const auto known = setup.coupler->wasChosenBy(setup.earphone->name);
        r.tookPartInCorrection =
            known.value_or(std::find(chose.begin(), chose.end(), setup.coupler->name) != chose.end());
    }
    noteTake(r);
    noteTone(r);
    if (tone.level_dBFS) {
        r.drive = driveOf(r, setup);
        measure(r, setup);
        noteFlaws(r);
        expect(r, setup);
        judge(r, setup);
        findSensitivity(r, setup);
        noteReference(r.notes, tone.sampleRate_Hz, setup);
        noteStanding(r, setup);
    }
    return r;
}

} // namespace couplet
