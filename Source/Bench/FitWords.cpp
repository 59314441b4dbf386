// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitWords.h"

#include "Library/Utf8.h"
#include "Metrology/Expanded.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace couplet {
namespace {

struct Piece
{
    std::string name;
    double shift_dB; // of the result, when it is left out
    double says_dB;
    const FittedGroup* fitting = nullptr;
};

std::vector<Piece> piecesOf(const CorrectionFit& fit)
{
    std::vector<Piece> pieces;
    const auto shift = [&](const std::optional<DensitySummary>& without) {
        return without->mean_dB - fit.correction_dB();
    };
    for (const auto& fitting : fit.fittings)
        if (fitting.says_dB && fitting.without)
            pieces.push_back({"the " + onOneLine(fitting.name), shift(fitting.without), *fitting.says_dB, &fitting});
    for (const auto& earphone : fit.earphones)
        if (earphone.takesPart && earphone.without)
            pieces.push_back({onOneLine(earphone.name), shift(earphone.without), earphone.says_dB});
    return pieces;
}

// What is left out and moves the result by less counts for little. No source.
double little_dB(const CorrectionFit& fit)
{
    return 0.25 * fit.posterior.all.u_dB;
}

std::string listed(const std::vector<std::string>& names)
{
    std::string text;
    for (std::size_t i = 0; i < names.size(); ++i)
        text += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
    return text;
}

std::string capital(std::string text)
{
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

std::vector<Piece> deciding(const CorrectionFit& fit)
{
    auto pieces = piecesOf(fit);
    const auto size = [](const Piece& p) { return std::abs(p.shift_dB); };
    std::stable_sort(pieces.begin(), pieces.end(), [&](const Piece& a, const Piece& b) { return size(a) > size(b); });
    std::vector<Piece> found;
    for (const auto& piece : pieces)
        if (size(piece) >= little_dB(fit) && size(piece) >= 0.5 * size(pieces.front()))
            found.push_back(piece);
    return found;
}

// "above" or "below" the interval as it is printed; empty within it.
std::string sideOf(const Piece& piece, const CorrectionFit& fit)
{
    const double says_dB = rounded_dB(piece.says_dB);
    if (says_dB > roundedUpward(fit.posterior.all.high_dB, 2))
        return "above";
    return says_dB < -roundedUpward(-fit.posterior.all.low_dB, 2) ? "below" : "";
}

// "though it says 4.62 dB itself, above the interval": what draws the result without agreeing with it decides nothing.
std::string outsideText(const std::vector<Piece>& pieces, const CorrectionFit& fit)
{
    const std::string what = fit.hasUncertainty() ? "the interval" : "what results";
    std::vector<std::string> texts;
    for (const auto& piece : pieces)
        if (const auto side = sideOf(piece, fit); !side.empty())
            texts.push_back(fmt::format("{} {} dB, {} {}", pieces.size() == 1 ? "it says" : piece.name + " says",
                                        levelText(piece.says_dB), side, what));
    return texts.empty() ? std::string() : ", though " + listed(texts);
}

std::string decidingText(const CorrectionFit& fit)
{
    const auto pieces = deciding(fit);
    if (pieces.empty())
        return {};
    const bool one = pieces.size() == 1;
    std::vector<std::string> names;
    for (const auto& piece : pieces)
        names.push_back(piece.name);
    const auto outside = outsideText(pieces, fit);
    if (outside.empty())
        return listed(names) + (one ? " decides" : " decide together");
    return listed(names) + (one ? " moves the result most" : " move the result most") + outside;
}

constexpr std::size_t mostNames = 4;
constexpr double largestLikely_dB = 6.0; // no source

// "the bare adapter and the paper shim read high, and count for little: their readings scatter by 0.45 and 0.20 dB"
std::string astray(const CorrectionFit& fit, bool high)
{
    std::vector<std::string> names, scatters;
    for (const auto& piece : piecesOf(fit)) {
        if (piece.fitting == nullptr || std::abs(piece.shift_dB) >= little_dB(fit))
            continue;
        const double says = *piece.fitting->says_dB;
        if (high ? says <= fit.posterior.all.high_dB : says >= fit.posterior.all.low_dB)
            continue;
        names.push_back(piece.name);
        if (piece.fitting->scatter_dB)
            scatters.push_back(levelText(*piece.fitting->scatter_dB));
    }
    if (names.empty())
        return {};
    const bool one = names.size() == 1;
    if (names.size() > mostNames) { // a sentence is read in one breath; the table has them all
        const auto more = names.size() - (mostNames - 1);
        names.resize(mostNames - 1);
        names.push_back(fmt::format("{} more", more));
        scatters.clear();
    }
    auto text = fmt::format("{} {} {}, and {} for little", listed(names), one ? "reads" : "read", high ? "high" : "low",
                            one ? "counts" : "count");
    if (scatters.size() == names.size())
        text += fmt::format(": {} readings scatter by {} dB", one ? "its" : "their", listed(scatters));
    return text;
}

// Two where what moves the result lies outside: the first is not to be left out for the length of the second.
std::vector<std::string> decidingSentences(const CorrectionFit& fit)
{
    const auto pieces = piecesOf(fit);
    if (pieces.empty())
        return {"One piece of evidence is all there is."};
    double most = 0.0;
    for (const auto& piece : pieces)
        most = std::max(most, std::abs(piece.shift_dB));
    std::string text = decidingText(fit);
    if (text.empty())
        text = fmt::format("no single piece decides: whichever is left out, the result moves by {} dB at most",
                           raisedText(most));
    std::string others;
    for (const bool high : {true, false})
        if (const auto side = astray(fit, high); !side.empty())
            others += (others.empty() ? "" : "; ") + side;
    if (others.empty())
        return {capital(text) + "."};
    if (!outsideText(deciding(fit), fit).empty())
        return {capital(text) + ".", capital(others) + "."};
    text += "; " + others;
    return {capital(text) + "."};
}

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

std::string decidingPiece(const CorrectionFit& fit)
{
    const auto pieces = deciding(fit);
    return pieces.empty() || !sideOf(pieces.front(), fit).empty() ? std::string() : pieces.front().name;
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
