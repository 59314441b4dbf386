// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitDeciding.h"

#include "Bench/FitWords.h"
#include "Library/Utf8.h"
#include "Metrology/Expanded.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

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
    return texts.empty() ? std::string() : fmt::format(", though {}", fmt::join(texts, ", and "));
}

std::string decidingText(const CorrectionFit& fit)
{
    const auto pieces = deciding(fit);
    if (pieces.empty())
        return {};
    const bool one = pieces.size() == 1;
    std::vector<std::string> names;
    names.reserve(pieces.size());
    for (const auto& piece : pieces)
        names.push_back(piece.name);
    const auto outside = outsideText(pieces, fit);
    if (outside.empty())
        return listed(names) + (one ? " decides" : " decide together");
    return listed(names) + (one ? " moves the result most" : " move the result most") + outside;
}

constexpr std::size_t mostNames = 4;

// "the bare adapter and the paper shim read high, and count for little: their readings scatter by 0.45 and 0.20 dB"
std::string astray(const CorrectionFit& fit, bool high)
{
    std::vector<std::string> names, scatters; // scatters: where they are why it counts for little
    for (const auto& piece : piecesOf(fit)) {
        if (piece.fitting == nullptr || std::abs(piece.shift_dB) >= little_dB(fit))
            continue;
        const double says = *piece.fitting->says_dB;
        if (high ? says <= fit.posterior.all.high_dB : says >= fit.posterior.all.low_dB)
            continue;
        names.push_back(piece.name);
        if (piece.fitting->scatter_dB && piece.fitting->ownError.value_or(0.0) <= namedFrom)
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

} // namespace

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

std::string decidingPiece(const CorrectionFit& fit)
{
    const auto pieces = deciding(fit);
    return pieces.empty() || !sideOf(pieces.front(), fit).empty() ? std::string() : pieces.front().name;
}

} // namespace couplet
