// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitWords.h"

#include "Bench/FitDeciding.h"
#include "Library/Utf8.h"
#include "Metrology/Expanded.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace couplet {
namespace {

constexpr double largestLikely_dB = 6.0; // no source

std::string apartSentence(const CorrectionFit& fit)
{
    std::size_t known = 0;
    for (const auto& fitting : fit.evidence.fittings)
        known += fitting.count > 1 ? 1 : 0;
    if (known < 2 || !fit.posterior.kappa)
        return {};
    if (fit.notToldApart.empty())
        return "Every fitting can be told from every other.";
    const auto because = fmt::format("a fitting's own error is about {:.1f} times its scatter", *fit.posterior.kappa);
    if (fit.notToldApart.size() == known * (known - 1) / 2)
        return fmt::format("No two fittings can be told apart, for {}.", because);
    std::vector<std::string> pairs;
    constexpr std::size_t mostPairs = 3;
    for (const auto& [a, b] : fit.notToldApart)
        if (pairs.size() < mostPairs)
            pairs.push_back(
                fmt::format("the {} from the {}", onOneLine(fit.fittings[a].name), onOneLine(fit.fittings[b].name)));
    if (fit.notToldApart.size() > mostPairs)
        pairs.push_back(fmt::format("{} more pairs", fit.notToldApart.size() - mostPairs));
    return fmt::format("Not to be told apart, for {}: {}.", because, listed(pairs));
}

// Those that contradict the rest, the one farthest beyond what is possible first: what it drags along may be named with
// it.
std::vector<const FittedEarphone*> contradicting(const CorrectionFit& fit)
{
    std::vector<const FittedEarphone*> found;
    for (const auto& e : fit.earphones)
        if (e.takesPart && e.contradicts.value_or(false))
            found.push_back(&e);
    const auto excess = [](const FittedEarphone& e) {
        return std::abs(e.says_dB - e.without->mean_dB) - e.tolerance_dB.value_or(0.0) - 2.0 * e.without->u_dB;
    };
    std::stable_sort(found.begin(), found.end(), [&](const auto* a, const auto* b) { return excess(*a) > excess(*b); });
    return found;
}

std::string earphoneSentence(const CorrectionFit& fit)
{
    const auto named = contradicting(fit);
    if (named.empty()) {
        const bool judged = std::any_of(fit.earphones.begin(), fit.earphones.end(),
                                        [](const FittedEarphone& e) { return e.takesPart && e.contradicts; });
        return judged ? "No earphone contradicts the rest." : "";
    }
    const auto& first = *named.front();
    auto text = fmt::format("{} contradicts the rest: it says {} dB, and the rest {} dB ({} to {}).",
                            capital(onOneLine(first.name)), levelText(first.says_dB), levelText(first.without->mean_dB),
                            loweredText(first.without->low_dB), raisedText(first.without->high_dB));
    std::vector<std::string> others;
    for (const auto* e : named)
        if (e != &first)
            others.push_back(onOneLine(e->name));
    if (!others.empty())
        text += fmt::format(" So {} {}, but less; look at the first before the others.",
                            others.size() == 1 ? "does" : "do", listed(others));
    return text;
}

std::vector<std::string> whyOf(const CorrectionFit& fit)
{
    std::vector<std::string> why;
    const auto& posterior = fit.posterior;
    if (posterior.kappa)
        why.push_back(fmt::format("error of a fitting's own: {:.1f} times its scatter (taken to be 0.3 to 8 times "
                                  "before the readings)",
                                  *posterior.kappa));
    if (posterior.sign)
        why.push_back(
            fmt::format("these errors raise readings with a probability of {:.0f} %, lower them with {:.0f} %, "
                        "and go both ways with {:.0f} %",
                        100.0 * posterior.sign->high, 100.0 * posterior.sign->low, 100.0 * posterior.sign->any));
    for (const auto& [a, b] : fit.notToldApart)
        why.push_back(fmt::format(
            "{} and {} differ by {} dB; told apart from {} dB on", onOneLine(fit.fittings[a].name),
            onOneLine(fit.fittings[b].name), levelText(std::abs(*fit.fittings[a].says_dB - *fit.fittings[b].says_dB)),
            raisedText(toldApartFrom_dB(fit.evidence.fittings[a], fit.evidence.fittings[b], *posterior.kappa))));
    if (!fit.evidence.fittings.empty())
        why.push_back(fmt::format("shared by all fittings (transfer, adapter, calibrator): u {:.3f} dB",
                                  fit.evidence.u_fittings_dB));
    if (!fit.evidence.earphones.empty())
        why.push_back(fmt::format("shared by all earphones (seating of the reference): u {:.3f} dB",
                                  fit.evidence.u_earphones_dB));
    return why;
}

} // namespace

std::string loweredText(double low_dB)
{
    // As U is rounded upward, with the same forgiveness.
    return levelText(-roundedUpward(-low_dB, 2));
}

std::string raisedText(double high_dB)
{
    return levelText(roundedUpward(high_dB, 2));
}

std::string unlikelyText(const CorrectionFit& fit)
{
    if (fit.correction_dB() < 0.0)
        return "the correction is negative: a coupler takes away from a calibrator's level, as a rule; were 'direct' "
               "and "
               "'through' exchanged?";
    if (fit.correction_dB() > largestLikely_dB)
        return "the correction is above 6 dB: is a seal open, or the calibrator loose?";
    return {};
}

std::string peaksText(const CorrectionFit& fit)
{
    const auto& peaks = fit.posterior.peaks_dB;
    if (peaks.size() < 2)
        return {};
    std::vector<std::string> places;
    places.reserve(peaks.size());
    for (const double peak : peaks)
        places.push_back(levelText(peak));
    return fmt::format(
        "the evidence falls apart: what remains has peaks at {} dB, and the mean lies between them; find "
        "out which piece is wrong before it is used",
        listed(places));
}

FitWords wordsOf(const FitInput& input, const CorrectionFit& fit, std::optional<double> certified_dB)
{
    FitWords words;
    const double c = rounded_dB(fit.correction_dB());
    words.headline = fmt::format("Take {} dB off this calibrator", levelText(c));
    words.headline += certified_dB ? fmt::format(": its {} dB stands for {} dB at the coupler microphone.",
                                                 levelText(*certified_dB), levelText(*certified_dB - c))
                                   : std::string(".");
    if (fit.hasUncertainty())
        words.interval = fmt::format("Between {} and {} dB (95 %).", loweredText(fit.posterior.all.low_dB),
                                     raisedText(fit.posterior.all.high_dB));
    else
        words.interval = "How sure that is cannot be said: " + fit.missing.front() + ".";
    for (const auto& text : {unlikelyText(fit), peaksText(fit)})
        if (!text.empty())
            words.sentences.push_back(capital(text) + (text.ends_with('?') ? "" : "."));
    for (auto& sentence : decidingSentences(fit))
        words.sentences.push_back(std::move(sentence));
    for (auto& sentence : {apartSentence(fit), earphoneSentence(fit)})
        if (!sentence.empty())
            words.sentences.push_back(sentence);
    words.why = whyOf(fit);
    words.notes = notesOf(input, fit);
    return words;
}

} // namespace couplet
