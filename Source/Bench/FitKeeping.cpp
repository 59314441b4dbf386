// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitKeeping.h"

#include "Bench/FitWords.h"
#include "Library/Utf8.h"
#include "Metrology/Rating.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

std::string counted(std::size_t count, const char* one, const char* several)
{
    return fmt::format("{} {}", count, count == 1 ? one : several);
}

std::string originOf(const CorrectionFit& fit)
{
    std::string text = "fit of ";
    const auto fittings = fit.evidence.fittings.size(), earphones = fit.evidence.earphones.size();
    if (fittings > 0)
        text += counted(fittings, "fitting", "fittings") + (earphones > 0 ? " and " : "");
    if (earphones > 0)
        text += counted(earphones, "earphone", "earphones");
    const auto deciding = decidingPiece(fit);
    return deciding.empty() ? text : text + ", mostly " + deciding;
}

bool chose(const CorrectionFit& fit, const std::string& earphone)
{
    return std::any_of(fit.earphones.begin(), fit.earphones.end(),
                       [&](const FittedEarphone& e) { return e.takesPart && e.name == earphone; });
}

} // namespace

CorrectionSubject subjectOf(const FitInput& input)
{
    CorrectionSubject subject{input.settings.frequency, input.settings.calibrator};
    const auto look = [&subject](const FitGroup& group) {
        for (const auto& reading : group.readings) {
            if (!reading.setAside.empty())
                continue;
            if (!subject.frequency)
                subject.frequency = reading.frequency;
            if (subject.calibrator.empty())
                subject.calibrator = reading.calibrator;
            subject.contradicts |= reading.frequency && !sameRatingFrequency(*reading.frequency, *subject.frequency);
            subject.contradicts |= !reading.calibrator.empty() && reading.calibrator != subject.calibrator;
        }
    };
    for (const auto& group : input.fittings)
        look(group);
    look(input.through);
    return subject;
}

Correction correctionFrom(const FitInput& input, const CorrectionFit& fit, const std::string& date)
{
    Correction c;
    c.value_dB = fit.correction_dB();
    if (fit.hasUncertainty())
        c.U_dB = 2.0 * fit.posterior.all.u_dB;
    c.includesCalibrator = fit.hasUncertainty();
    const auto subject = subjectOf(input);
    c.calibrator = subject.calibrator;
    c.frequency = subject.frequency;
    c.origin = originOf(fit);
    c.chosenBy.emplace();
    for (const auto& earphone : fit.earphones)
        if (earphone.takesPart)
            c.chosenBy->push_back(earphone.name);
    c.date = date;
    return c;
}

Outcome<std::vector<std::string>> keepCorrection(const Folder& folder, Coupler coupler, const Correction& correction,
                                                 const CorrectionFit& fit)
{
    std::vector<std::string> notes;
    std::vector<Earphone> toMark, toFree;
    std::vector<std::string> known;
    for (const auto& item : folder.list().items) {
        const auto* earphone = std::get_if<Earphone>(&item);
        if (earphone == nullptr)
            continue;
        known.push_back(earphone->name);
        const auto& marks = earphone->choseCorrectionOf;
        const bool marked = std::find(marks.begin(), marks.end(), coupler.name) != marks.end();
        if (chose(fit, earphone->name) && !marked)
            toMark.push_back(*earphone);
        else if (!chose(fit, earphone->name) && marked)
            toFree.push_back(*earphone);
    }
    for (const auto& e : fit.earphones)
        if (e.takesPart && std::find(known.begin(), known.end(), e.name) == known.end())
            notes.push_back(fmt::format("{} is not in the library: it bears no mark that it chose this correction, so "
                                        "remember that its agreement is no proof",
                                        inQuotes(e.name)));
    // Marks first: should the coupler's file fail, an earphone too many is called no proof, never one too few.
    for (auto& earphone : toMark) {
        earphone.choseCorrectionOf.push_back(coupler.name);
        if (const auto done = folder.save(earphone); !done)
            return done.fault();
    }
    if (const Reference* reference = coupler.current(); reference != nullptr)
        notes.push_back(
            fmt::format("the reference of {} was taken before this correction and does not hold it: take it "
                        "again",
                        onOneLine(reference->takenAt)));
    if (correction.calibrator.empty())
        notes.emplace_back("with which calibrator the correction was found is not stated: a reference counts its "
                           "calibrator's certificate besides");
    coupler.correction = correction;
    if (const auto done = folder.save(coupler); !done)
        return done.fault();
    for (auto& earphone : toFree) {
        std::erase(earphone.choseCorrectionOf, coupler.name);
        if (const auto done = folder.save(earphone); !done)
            return done.fault();
    }
    return notes;
}

} // namespace couplet
