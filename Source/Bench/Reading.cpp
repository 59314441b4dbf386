// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/Reading.h"

#include "Metrology/Expanded.h"
#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

// An ear simulator is ear-like from 100 Hz to 10 kHz and a mere coupler from 20 Hz to 16 kHz (IEC 60318-4, abstract).
constexpr double earLikeFrom_Hz = 100.0, earLikeTo_Hz = 10000.0;
constexpr double couplerFrom_Hz = 20.0, couplerTo_Hz = 16000.0;
constexpr double edge = 1.001; // a tone that is meant to be at an edge is within it

// An earphone is steady within this (method of this product, no source).
constexpr double steady_dB = 0.05;
// Hum and a constant that stand out are named: hum above -40 dB of the tone, a constant above -60 dBFS.
constexpr double namedHum_dB = 40.0, namedDc_dBFS = -60.0;
constexpr double namedOthers_percent = 10.0;
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

void noteTone(Reading& r)
{
    const ToneSummary& t = r.tone;
    if (!t.level_dBFS) {
        r.notes.push_back(t.whyNoLevel);
        return;
    }
    const double f = t.frequency->value;
    if (f < couplerFrom_Hz / edge || f > couplerTo_Hz * edge)
        r.notes.push_back("outside 20 Hz to 16 kHz a coupler's level means nothing for an ear");
    else if (f < earLikeFrom_Hz / edge || f > earLikeTo_Hz * edge)
        r.notes.push_back("outside 100 Hz to 10 kHz an ear simulator is a mere coupler, not ear-like");
    if (!t.steadiness_dB)
        r.notes.push_back("the tone has just begun, or begun anew: whether it is steady is not known yet");
    else if (*t.steadiness_dB > steady_dB)
        r.notes.push_back(
            fmt::format("the tone is unsteady: its level moved by {:.2f} dB from its mean; an earphone is "
                        "steady within {:.2f} dB",
                        *t.steadiness_dB, steady_dB));
    if (!t.distortion_percent && t.stretch_s > 0.0)
        r.notes.push_back("no harmonic of this tone fits below half the sampling rate: its distortion cannot be had");
    if (t.distortionAndNoise_percent && *t.distortionAndNoise_percent > namedOthers_percent)
        r.notes.push_back(fmt::format("{:.0f} % of the sound is not this tone: another tone, hum, distortion or noise",
                                      *t.distortionAndNoise_percent));
    if (t.disturbances > 0)
        r.notes.push_back(fmt::format("disturbed {} time{}: the longest undisturbed stretch was used, {:.1f} s from "
                                      "{:.1f} s on",
                                      t.disturbances, t.disturbances == 1 ? "" : "s", t.stretch_s, t.start_s));
    if (const auto below = t.humBelowTone_dB(); below && *below < namedHum_dB)
        r.notes.push_back(
            fmt::format("hum at {:.0f} Hz and its orders is only {:.1f} dB below the tone; it is taken out "
                        "of the tone's level",
                        t.hum->value, *below));
    if (t.dc_dBFS && *t.dc_dBFS > namedDc_dBFS)
        r.notes.push_back(fmt::format("a constant (DC) of {:.1f} dBFS lies under the signal; it is taken out of the "
                                      "tone's level",
                                      *t.dc_dBFS));
    if (t.humBound_dB >= 0.00005) // what four decimals show
        r.notes.push_back(
            fmt::format("a mains order falls on the tone; it may move it by {:.4f} dB, which is in U", t.humBound_dB));
}

void noteTake(Reading& r)
{
    if (r.tone.clippedSamples > 0)
        r.notes.push_back(fmt::format("clipped: {} samples at full scale; lower the input's gain and take it again. A "
                                      "clipped level cannot be judged",
                                      r.tone.clippedSamples));
    noteBroken(r.tone, r.notes);
    for (auto& sentence : breakSentences(r.tone.breaks, r.tone.live, r.tone.duration_s))
        r.notes.push_back(std::move(sentence));
}

void noteReference(Reading& r, const Setup& setup)
{
    if (!setup.coupler)
        return;
    const Reference* reference = setup.coupler->current();
    if (reference == nullptr)
        return;
    const auto age = ageOf_s(*reference, setup.now);
    if (age && *age < -clocksDiffer_s)
        r.notes.push_back(
            "the reference was taken in the future, so its age is not known: was a clock put back? take a "
            "new one");
    else if (age && isStale(*reference, *setup.coupler, setup.now))
        r.notes.push_back(fmt::format("the reference is stale: taken {:.0f} h ago, allowed are {:.0f} h", *age / 3600.0,
                                      setup.coupler->allowedAge_h));
    if (reference->sampleRate_Hz > 0.0 && r.tone.sampleRate_Hz > 0.0 &&
        reference->sampleRate_Hz != r.tone.sampleRate_Hz)
        r.notes.push_back(fmt::format("the reference was taken at {:g} Hz sampling, this at {:g} Hz: is it the same "
                                      "input and gain?",
                                      reference->sampleRate_Hz, r.tone.sampleRate_Hz));
    if (reference->channel != setup.channel)
        r.notes.push_back(fmt::format("the reference was taken on channel {}, this on channel {}: is it the same input "
                                      "and gain?",
                                      reference->channel, setup.channel));
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

void judge(Reading& r, const Setup& setup)
{
    if (!r.referenced || !r.measured || !r.expected)
        return;
    r.difference = compare(*r.measured, *r.expected, setup.largestU_dB);
    if (r.tone.clippedSamples > 0)
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

bool Reading::answersNo() const
{
    return !measured || tone.clippedSamples > 0 || verdict == Verdict::differs;
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
    if (setup.coupler && setup.earphone) {
        const auto& chose = setup.earphone->choseCorrectionOf;
        r.tookPartInCorrection = std::find(chose.begin(), chose.end(), setup.coupler->name) != chose.end();
    }
    noteTake(r);
    noteTone(r);
    if (tone.level_dBFS) {
        r.drive = driveOf(r, setup);
        measure(r, setup);
        expect(r, setup);
        judge(r, setup);
        findSensitivity(r, setup);
        noteReference(r, setup);
    }
    return r;
}

} // namespace couplet
