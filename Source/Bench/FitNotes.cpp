// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitWords.h"

#include "Bench/FitEarphones.h"
#include "Library/Utf8.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace couplet {
namespace {

using Notes = std::vector<std::string>;

// Of a frequency that is meant to be the same.
constexpr double sameFrequency_octaves = 1.0 / 24.0;

std::string titleOf(const std::string& group)
{
    return group.empty() ? "through the coupler" : inQuotes(group);
}

// "reading 3 of ..." or "insertion 3 of ...".
template <class Reading>
void noteOutliers(Notes& notes, const char* what, const std::string& title, const std::vector<Reading>& readings,
                  const std::vector<Outlier>& outliers)
{
    for (const auto& outlier : outliers)
        notes.push_back(fmt::format("{} {} of {} ({} dB) {}: Grubbs' test has G {:.2f} above {:.2f} ({} %); it still "
                                    "counts, unless it is set aside with a reason",
                                    what, outlier.index + 1, title, levelText(readings[outlier.index].level_dB),
                                    outlier.straggler ? "straggles" : "is an outlier", outlier.distance,
                                    outlier.critical, outlier.straggler ? 5 : 1));
}

void noteReading(Notes& notes, const FitGroup& group, const FittedGroup& fitted)
{
    if (fitted.count == 1 && !group.name.empty())
        notes.push_back(fmt::format("{} has one reading: its scatter is unknown and taken to be anything from 0.005 to "
                                    "2 dB; read it three times more",
                                    titleOf(group.name)));
    if (fitted.scatter_dB == 0.0)
        notes.push_back(
            fmt::format("the readings of {} are all equal: their scatter is below what was written down; is "
                        "each from a fitting of its own?",
                        titleOf(group.name)));
    noteOutliers(notes, "reading", titleOf(group.name), group.readings, fitted.outliers);
    if (fitted.trend.scatterGrows)
        notes.push_back(fmt::format("the scatter of {} grows with time (Spearman's test, 1 %): something is slipping",
                                    titleOf(group.name)));
    if (fitted.trend.drifts)
        notes.push_back(
            fmt::format("the level of {} drifts with time (Spearman's test, 1 %): is it settling, slipping, "
                        "or a battery running down?",
                        titleOf(group.name)));
}

bool isAnother(Hertz f, Hertz wanted)
{
    return !(std::abs(std::log2(f / wanted)) <= sameFrequency_octaves);
}

// Frequency and calibrator that the correction is for; when not stated, those of the first reading that states them.
void noteStrangers(Notes& notes, const FitInput& input)
{
    auto frequency = input.settings.frequency;
    auto calibrator = input.settings.calibrator;
    auto groups = input.fittings;
    groups.push_back(input.through);
    for (const auto& group : groups) {
        std::size_t otherFrequency = 0, otherCalibrator = 0;
        for (const auto& reading : group.readings) {
            if (!reading.setAside.empty())
                continue;
            if (!frequency)
                frequency = reading.frequency;
            if (calibrator.empty())
                calibrator = reading.calibrator;
            otherFrequency += reading.frequency && isAnother(*reading.frequency, *frequency) ? 1 : 0;
            otherCalibrator += !reading.calibrator.empty() && reading.calibrator != calibrator ? 1 : 0;
        }
        if (otherFrequency > 0)
            notes.push_back(fmt::format("{} of the readings of {} {} not at {}: a loss belongs to one frequency",
                                        otherFrequency, titleOf(group.name), otherFrequency == 1 ? "was" : "were",
                                        nominalFrequencyText(*frequency)));
        if (otherCalibrator > 0)
            notes.push_back(fmt::format(
                "{} of the readings of {} {} not made with {}: a loss belongs to one calibrator", otherCalibrator,
                titleOf(group.name), otherCalibrator == 1 ? "was" : "were", inQuotes(calibrator)));
    }
}

template <class Reading>
void noteSetAside(Notes& notes, const char* what, const std::string& title, const std::vector<Reading>& readings)
{
    for (std::size_t i = 0; i < readings.size(); ++i)
        if (const auto& reading = readings[i]; !reading.setAside.empty())
            notes.push_back(fmt::format("{} {} of {} ({} dB) is set aside: {}", what, i + 1, title,
                                        levelText(reading.level_dB), onOneLine(reading.setAside)));
}

void noteGroups(Notes& notes, const FitInput& input, const CorrectionFit& fit)
{
    for (const auto& group : input.fittings) {
        noteSetAside(notes, "reading", titleOf(group.name), group.readings);
        const auto found = std::find_if(fit.fittings.begin(), fit.fittings.end(),
                                        [&](const FittedGroup& f) { return f.name == group.name; });
        if (found != fit.fittings.end())
            noteReading(notes, group, *found);
        else if (group.readings.empty())
            notes.push_back(fmt::format("{} has no reading yet", titleOf(group.name)));
        else
            notes.push_back(fmt::format("every reading of {} is set aside: it says nothing", titleOf(group.name)));
    }
    noteSetAside(notes, "reading", titleOf(input.through.name), input.through.readings);
    if (fit.through)
        noteReading(notes, input.through, *fit.through);
    noteStrangers(notes, input);
}

void noteKinds(Notes& notes, const FitInput& input, const CorrectionFit& fit)
{
    if (!fit.through && !fit.fittings.empty())
        notes.emplace_back("there is no reading through the coupler: the fittings say nothing, and the earphones alone "
                           "choose; read the same microphone behind the coupler");
    else if (fit.fittings.empty())
        notes.emplace_back("there is no fitting: the earphones alone choose");
    else if (fit.through->count == 1)
        notes.emplace_back(
            "there is one reading through the coupler: its u is taken to be 0.05 dB, that of one seating "
            "(assumed)");
    if (fit.evidence.fittings.size() == 1)
        notes.emplace_back("there is one fitting: how far its error exceeds its scatter cannot be seen from it, so the "
                           "interval is wide; read another fitting");
    if (fit.evidence.earphones.empty())
        notes.emplace_back("no earphone takes part: the fittings alone choose, and the interval is wider for it");
    if (!input.settings.microphoneBuiltIn || input.settings.u_transfer_dB == 0.0)
        notes.emplace_back(
            "nothing is taken over from another coupler: where this microphone can leave its coupler and "
            "go bare into the calibrator, no correction is needed");
}

void noteInsertions(Notes& notes, const FitEarphone& e, const FittedEarphone& fitted)
{
    noteSetAside(notes, "insertion", inQuotes(e.name), e.insertions);
    noteOutliers(notes, "insertion", inQuotes(e.name), e.insertions, fitted.outliers);
    if (const auto differ_dB = insertionsDiffer_dB(e))
        notes.push_back(fmt::format("the insertions of {} differ by {} dB: insert and read it again, and set the one "
                                    "aside that was not seated",
                                    inQuotes(e.name), levelText(*differ_dB)));
}

void noteEarphones(Notes& notes, const FitInput& input, const CorrectionFit& fit)
{
    bool oneAside = false;
    for (std::size_t i = 0; i < fit.earphones.size(); ++i) {
        const auto& e = fit.earphones[i];
        oneAside = oneAside || e.keptAside;
        noteInsertions(notes, input.earphones[i], e);
        if (e.setAside == everyInsertionAside)
            notes.push_back(fmt::format("every insertion of {} is set aside: it says nothing", inQuotes(e.name)));
        else if (!e.setAside.empty())
            notes.push_back(fmt::format("{} is set aside: {}", inQuotes(e.name), onOneLine(e.setAside)));
        else if (!e.takesPart && !e.keptAside)
            notes.push_back(fmt::format(
                "{} takes no part: {}", inQuotes(e.name),
                input.earphones[i].u_dB ? "it has neither a tolerance nor an uncertainty above 0; state one of them"
                                        : "the uncertainty of its reading and expected level is not stated; state it"));
        else if (e.keptAside && e.contradicts.value_or(false))
            notes.push_back(fmt::format("{}, kept aside, says {} dB, which the result does not leave possible",
                                        inQuotes(e.name), levelText(e.says_dB)));
    }
    if (!fit.evidence.earphones.empty() && !oneAside)
        notes.emplace_back("an earphone that chose the correction cannot also prove it: keep one aside");
}

void noteResult(Notes& notes, const CorrectionFit& fit)
{
    if (auto unlikely = unlikelyText(fit); !unlikely.empty())
        notes.push_back(std::move(unlikely));
    if (auto contradiction = contradictionText(fit); !contradiction.empty())
        notes.push_back(std::move(contradiction));
}

} // namespace

std::vector<std::string> notesOf(const FitInput& input, const CorrectionFit& fit)
{
    Notes notes = fit.missing;
    noteKinds(notes, input, fit);
    noteGroups(notes, input, fit);
    noteEarphones(notes, input, fit);
    noteResult(notes, fit);
    return notes;
}

} // namespace couplet
