// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitWords.h"

#include "Bench/FitDeciding.h"
#include "Bench/FitDoubts.h"
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
        return fmt::format("No two fittings can be told apart, because {}.", because);
    std::vector<std::string> pairs;
    constexpr std::size_t mostPairs = 3;
    for (const auto& [a, b] : fit.notToldApart)
        if (pairs.size() < mostPairs)
            pairs.push_back(
                fmt::format("the {} from the {}", onOneLine(fit.fittings[a].name), onOneLine(fit.fittings[b].name)));
    if (fit.notToldApart.size() > mostPairs)
        pairs.push_back(fmt::format("{} more pairs", fit.notToldApart.size() - mostPairs));
    return fmt::format("These cannot be told apart, because {}: {}.", because, listed(pairs));
}

// "; it hardly moves the result", or where the result would be without it.
std::string movesText(const CorrectionFit& fit, const FittedEarphone& e)
{
    constexpr double hardly = 0.25; // of u; no source
    if (std::abs(e.without->mean_dB - fit.correction_dB()) <= hardly * fit.posterior.all.u_dB)
        return "It hardly moves the result.";
    return fmt::format("Without it the result would be {} dB.", levelText(e.without->mean_dB));
}

std::string earphoneSentence(const CorrectionFit& fit)
{
    std::vector<const FittedEarphone*> named;
    bool judged = false;
    for (const auto& e : fit.earphones) {
        judged = judged || (e.takesPart && e.contradicts);
        if (e.takesPart && e.contradicts.value_or(false))
            named.push_back(&e);
    }
    if (named.empty())
        return judged ? "No earphone contradicts the rest." : "";
    std::stable_sort(named.begin(), named.end(),
                     [](const auto* a, const auto* b) { return *a->outside > *b->outside; });
    const auto& first = *named.front();
    const auto name = capital(onOneLine(first.name));
    if (named.size() == 1)
        return fmt::format("{} {}: it says {} dB, and the rest {} dB ({} to {}). {}", name,
                           first.tolerance_dB ? "lies outside its rating" : "contradicts the rest",
                           levelText(first.says_dB), levelText(first.without->mean_dB),
                           loweredText(first.without->low_dB), raisedText(first.without->high_dB),
                           movesText(fit, first));
    constexpr std::size_t mostNames = 4;
    std::vector<std::string> names;
    for (const auto* e : named)
        if (names.size() < mostNames)
            names.push_back(fmt::format("{} ({} dB)", onOneLine(e->name), levelText(e->says_dB)));
    if (named.size() > mostNames)
        names.back() = fmt::format("{} more", named.size() - mostNames + 1);
    return capital(fmt::format("{} lie outside their ratings.", listed(names)));
}

// Fittings that more likely than not repeat an error which their scatter does not show.
std::string ownErrorSentence(const CorrectionFit& fit)
{
    std::vector<std::string> names;
    for (const auto& fitting : fit.fittings)
        if (fitting.ownError.value_or(0.0) > namedFrom)
            names.push_back(
                fmt::format("the {} ({:.0f} %)", onOneLine(fitting.name), std::min(99.0, 100.0 * *fitting.ownError)));
    constexpr std::size_t mostNames = 4;
    if (names.size() > mostNames) {
        names[mostNames - 1] = fmt::format("{} more", names.size() - mostNames + 1);
        names.resize(mostNames);
    }
    if (names.empty())
        return {};
    return capital(fmt::format("{} {} an error that {} scatter does not show: {} for less.", listed(names),
                               names.size() == 1 ? "repeats" : "repeat", names.size() == 1 ? "its" : "their",
                               names.size() == 1 ? "it counts" : "they count"));
}

// "bare adapter 7 %, paper shim 11 %": the highest of them.
template <class Items, class Share> std::string shareText(const Items& items, const Share& share)
{
    using Item = typename Items::value_type;
    std::vector<const Item*> judged;
    for (const auto& item : items)
        if (share(item))
            judged.push_back(&item);
    std::stable_sort(judged.begin(), judged.end(),
                     [&](const Item* a, const Item* b) { return *share(*a) > *share(*b); });
    constexpr std::size_t most = 6;
    std::vector<std::string> texts;
    for (const Item* item : judged)
        if (texts.size() < most)
            texts.push_back(fmt::format("{} {:.1f} %", onOneLine(item->name), 100.0 * *share(*item)));
    if (judged.size() > most)
        texts.push_back(fmt::format("{} more below", judged.size() - most));
    return fmt::format("{}", fmt::join(texts, ", "));
}

// What is not known to be shared is said to be taken as each earphone's own.
std::string sharedByEarphones(const FitInput& input, const CorrectionFit& fit)
{
    auto text = fmt::format("shared by all earphones (reference, voltmeter): u {:.3f} dB", fit.evidence.u_earphones_dB);
    std::vector<std::string> whole;
    for (std::size_t i = 0; i < fit.earphones.size(); ++i)
        if (fit.earphones[i].takesPart && input.earphones[i].u_shared_dB == 0.0)
            whole.push_back(onOneLine(fit.earphones[i].name));
    if (whole.empty() || fit.evidence.earphones.size() < 2)
        return text;
    constexpr std::size_t mostNames = 4;
    if (whole.size() > mostNames) {
        whole[mostNames - 1] = fmt::format("{} more", whole.size() - mostNames + 1);
        whole.resize(mostNames);
    }
    return text +
           fmt::format("; the u of {} {} stated whole and taken to be all {} own: what the earphones share, such as "
                       "the voltmeter, belongs in the u of the seating",
                       listed(whole), whole.size() == 1 ? "is" : "are", whole.size() == 1 ? "its" : "their");
}

std::vector<std::string> whyOf(const FitInput& input, const CorrectionFit& fit)
{
    std::vector<std::string> why;
    const auto& posterior = fit.posterior;
    if (posterior.kappa)
        why.push_back(fmt::format("error of a fitting's own: {:.1f} times its scatter (taken to be 0.3 to 8 times "
                                  "before the readings)",
                                  *posterior.kappa));
    if (auto text = shareText(fit.fittings, [](const FittedGroup& f) { return f.ownError; }); !text.empty())
        why.push_back("probability of an error that the scatter does not show: " + text);
    if (auto text = shareText(fit.earphones, [](const FittedEarphone& e) { return e.outside; }); !text.empty())
        why.push_back("probability of lying outside the rating: " + text);
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
        why.push_back(
            fmt::format("shared by all fittings (transfer, adapter, calibrator): u {:.3f} dB, taken to be known "
                        "to about 40 % only",
                        fit.evidence.u_fittings_dB));
    if (!fit.evidence.earphones.empty())
        why.push_back(sharedByEarphones(input, fit));
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

std::string whyNoUncertainty(const CorrectionFit& fit)
{
    if (fit.contradictsItself())
        return contradictionText(fit);
    return fit.missing.empty() ? std::string() : fit.missing.front();
}

FitWords wordsOf(const FitInput& input, const CorrectionFit& fit, std::optional<double> certified_dB)
{
    FitWords words;
    const double c = rounded_dB(fit.correction_dB());
    const bool contradicts = fit.contradictsItself();
    if (contradicts) {
        words.headline = capital(contradictionText(fit)) + ".";
        words.interval = "There is no correction and no uncertainty until the wrong piece is found.";
        words.sentences.push_back(remedySentence(fit));
    }
    else {
        words.headline = fmt::format("Take {} dB off this calibrator", levelText(c));
        words.headline += certified_dB ? fmt::format(": its {} dB stands for {} dB at the coupler microphone.",
                                                     levelText(*certified_dB), levelText(*certified_dB - c))
                                       : std::string(".");
        words.interval = fit.hasUncertainty()
                             ? fmt::format("Between {} and {} dB (95 %).", loweredText(fit.posterior.all.low_dB),
                                           raisedText(fit.posterior.all.high_dB))
                             : "How sure that is cannot be said: " + fit.missing.front() + ".";
    }
    if (const auto text = contradicts ? std::string() : unlikelyText(fit); !text.empty())
        words.sentences.push_back(capital(text) + (text.ends_with('?') ? "" : "."));
    if (!contradicts)
        for (auto& sentence : decidingSentences(fit))
            words.sentences.push_back(std::move(sentence));
    for (auto& sentence : {contradicts ? std::string() : hiddenErrorText(fit), earphoneSentence(fit),
                           ownErrorSentence(fit), apartSentence(fit)})
        if (!sentence.empty())
            words.sentences.push_back(sentence);
    words.why = whyOf(input, fit);
    words.notes = notesOf(input, fit);
    return words;
}

} // namespace couplet
