// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReadingNotes.h"

#include "Bench/ChainHistory.h"
#include "Metrology/JudgedTerms.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

namespace couplet {
namespace {

// An ear simulator is ear-like from 100 Hz to 10 kHz and a mere coupler from 20 Hz to 16 kHz (IEC 60318-4, abstract).
constexpr double earLikeFrom_Hz = 100.0, earLikeTo_Hz = 10000.0;
constexpr double couplerFrom_Hz = 20.0, couplerTo_Hz = 16000.0;
constexpr double edge = 1.001; // a tone that is meant to be at an edge is within it

// An earphone is steady within this (method of this product, no source).
constexpr double steady_dB = 0.05;
// A constant above -60 dBFS is named, and distortion from 3 % (common practice, no source).
constexpr double namedDc_dBFS = -60.0, namedDistortion_percent = 3.0;
constexpr double visible_dB = 0.005; // half of the last digit that a level is shown with

// Behind this source a rating for 1 mW is far from one at the terminals (IEC 61938, second-hand).
constexpr Ohms standardSource{120.0};

// How far a milliwatt rating that names no source could be off if it had one.
std::string milliwattWords(const Rating& rating)
{
    const double least =
        1.0 - rating.impedanceTolerance.value_or(assumedImpedanceTolerance).value / 100.0; // of the rated impedance
    const double off_dB =
        loadLoss_dB(*rating.impedance, standardSource) - loadLoss_dB(least * *rating.impedance, standardSource);
    return fmt::format(
        "the rating for 1 mW names no source and is read at the earphone's terminals: if its source was {}, "
        "it may be off by {:.1f} dB; state the rated source impedance",
        impedanceText(standardSource), off_dB);
}

} // namespace

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
    if (t.distortion_percent && *t.distortion_percent >= namedDistortion_percent)
        r.notes.push_back(fmt::format("the tone's distortion is {:.1f} %: from {:.0f} % on it is named",
                                      *t.distortion_percent, namedDistortion_percent));
    if (t.disturbances > 0)
        r.notes.push_back(fmt::format("disturbed {} time{}: the longest undisturbed stretch was used, {:.1f} s from "
                                      "{:.1f} s on",
                                      t.disturbances, t.disturbances == 1 ? "" : "s", t.stretch_s, t.start_s));
    if (t.dc_dBFS && *t.dc_dBFS > namedDc_dBFS)
        r.notes.push_back(fmt::format("a constant (DC) of {} dBFS lies under the signal; it is taken out of the "
                                      "tone's level",
                                      decimalText(*t.dc_dBFS, 1)));
    if (t.humBound_dB >= visible_dB)
        r.notes.push_back(fmt::format(
            "an order of the mains may fall on the tone; it would move it by {:.3f} dB at most, which is in U",
            t.humBound_dB));
}

void noteTake(Reading& r)
{
    if (r.tone.clippedSamples > 0)
        r.notes.push_back(fmt::format("clipped: {} samples at full scale; lower the input's gain and take it again. A "
                                      "clipped level cannot be judged",
                                      r.tone.clippedSamples));
    if (r.tone.clippedElsewhere > 0)
        r.notes.push_back(clippedElsewhereSentence(r.tone));
    const auto headroom_dB = r.tone.wholeHeadroom_dB ? r.tone.wholeHeadroom_dB : r.tone.headroom_dB;
    if (headroom_dB && *headroom_dB < 0.0)
        r.notes.push_back(beyondSentence(*headroom_dB));
    if (r.tone.onset)
        r.notes.push_back(onsetSentence(*r.tone.onset));
    noteBroken(r.tone, r.notes);
    for (auto& sentence : breakSentences(r.tone.breaks, r.tone.live, r.tone.duration_s))
        r.notes.push_back(std::move(sentence));
}

void noteFlaws(Reading& r)
{
    const auto U_dB = r.measuredU ? std::optional(r.measuredU->U_dB) : std::nullopt;
    for (const Flaw& flaw : r.tone.flaws)
        if (flaw.withholds(U_dB))
            r.notes.push_back(flaw.sentence);
}

void noteReference(std::vector<std::string>& notes, double sampleRate_Hz, const Setup& setup)
{
    if (!setup.coupler)
        return;
    const Reference* reference = setup.coupler->current();
    if (reference == nullptr)
        return;
    const auto age = ageOf_s(*reference, setup.now);
    if (age && *age < -clocksDiffer_s)
        notes.push_back("the reference was taken in the future, so its age is not known: was a clock put back? take a "
                        "new one");
    else if (age && isStale(*reference, *setup.coupler, setup.now))
        notes.push_back(fmt::format("the reference is stale: taken {:.0f} h ago, allowed are {:.0f} h", *age / 3600.0,
                                    setup.coupler->allowedAge_h));
    if (reference->sampleRate_Hz > 0.0 && sampleRate_Hz > 0.0 && reference->sampleRate_Hz != sampleRate_Hz)
        notes.push_back(fmt::format("the reference was taken at {:g} Hz sampling, this at {:g} Hz: is it the same "
                                    "input and gain?",
                                    reference->sampleRate_Hz, sampleRate_Hz));
    if (reference->channel != setup.channel)
        notes.push_back(fmt::format("the reference was taken on channel {}, this on channel {}: is it the same input "
                                    "and gain?",
                                    reference->channel, setup.channel));
    if (auto changed = correctionChanged(*setup.coupler, *reference))
        notes.push_back(*std::move(changed));
    if (reference->moved_dB)
        notes.push_back(fmt::format("the reference in force was kept although it had moved by {} dB from the one "
                                    "before: set it aside if nothing was changed on purpose",
                                    signedLevelText(*reference->moved_dB)));
}

void noteStanding(Reading& r, const Setup& setup)
{
    if (r.drive && r.drive->acrossByDefault)
        r.standing.push_back(
            "the drive counts as the voltage across the earphone: set 'Drive is' to 'open circuit' if it "
            "was read without the earphone");
    if (r.expected && setup.earphone->rating.form == Rating::Form::perMilliwatt &&
        !setup.earphone->rating.ratedSource && setup.earphone->rating.impedanceTolerance != Percent(0.0))
        r.standing.push_back(milliwattWords(setup.earphone->rating));
    if (!r.referenced)
        return;
    const bool insertionSet = setup.coupler && setup.coupler->judged.insertion_dB;
    if (r.expected && !insertionSet)
        r.standing.push_back(fmt::format("one insertion is assumed as u {:.2f} dB: insert the earphone three times and "
                                         "set their own scatter",
                                         assumedInsertion_dB));
    r.standing.push_back(
        "room pressure is not in U: 1 kPa moves an earphone's level in a coupler by up to 0.09 dB, and "
        "its rating holds at 101.3 kPa");
}

} // namespace couplet
