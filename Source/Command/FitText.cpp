// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/FitText.h"

#include "Command/ItemText.h"
#include "Library/Utf8.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

namespace couplet {
namespace {

std::string orDash(const std::optional<double>& value)
{
    return value ? levelText(*value) : "-";
}

std::string withoutOf(const std::optional<DensitySummary>& without)
{
    return without ? levelText(without->mean_dB) : "-";
}

std::string cells(const std::string& count, const std::string& mean, const std::string& scatter,
                  const std::string& says, const std::string& without)
{
    // Not by width alone: a minus sign has more bytes than columns.
    const auto right = [](const std::string& text, std::size_t width) {
        std::size_t columns = 0;
        for (const char c : text)
            columns += (static_cast<unsigned char>(c) & 0xC0) != 0x80 ? 1 : 0;
        return std::string(width - std::min(width, columns), ' ') + text;
    };
    auto text = right(count, 8) + right(mean, 10) + right(scatter, 12) + right(says, 8) + right(without, 13);
    while (!text.empty() && text.back() == ' ')
        text.pop_back(); // no space at a line's end
    return text;
}

std::string toleranceOf(const FittedEarphone& e)
{
    return e.tolerance_dB ? fmt::format("rated {}", uncertaintyText(*e.tolerance_dB)) : std::string();
}

std::string whatBecameOf(const FittedEarphone& e)
{
    if (e.contradicts.value_or(false))
        return e.takesPart ? (e.tolerance_dB ? "   outside its rating" : "   contradicts the rest")
                           : "   contradicts the result";
    return e.keptAside ? "   kept aside" : e.takesPart ? "" : "   takes no part";
}

} // namespace

std::string textOf(const CorrectionFit& fit, const FitWords& words)
{
    std::string text = words.headline + "\n" + words.interval + "\n";
    for (const auto& sentence : words.sentences)
        text += sentence + "\n";
    std::vector<TextRow> rows;
    rows.push_back({"fitting", cells("readings", "mean dB", "scatter s", "says", "without it")});
    for (const auto& f : fit.fittings)
        rows.push_back({onOneLine(f.name), cells(std::to_string(f.count), levelText(f.mean_dB), orDash(f.scatter_dB),
                                                 orDash(f.says_dB), withoutOf(f.without))});
    if (fit.through)
        rows.push_back(
            {"through the coupler", cells(std::to_string(fit.through->count), levelText(fit.through->mean_dB),
                                          orDash(fit.through->scatter_dB), "", "")});
    for (const auto& e : fit.earphones)
        rows.push_back({onOneLine(e.name),
                        cells("", "", toleranceOf(e), levelText(e.says_dB), e.takesPart ? withoutOf(e.without) : "-") +
                            whatBecameOf(e)});
    text += "\n" + alignedText(rows) + "\nwhy\n";
    for (const auto& reason : words.why)
        text += "  " + reason + "\n";
    for (const auto& note : words.notes)
        text += "note: " + note + "\n";
    return text;
}

std::string textOf(const CorrectionFit& fit, const MoreReadings& more, double wantedU_dB)
{
    bool inVain = false;
    const auto line = [&inVain](const std::string& group, const std::optional<std::size_t>& count) {
        if (!count) {
            inVain = true;
            return fmt::format("  {}: not with {} more\n", group, mostMoreReadings);
        }
        return *count == 0 ? fmt::format("  {}: it is there already\n", group)
                           : fmt::format("  {}: {} more reading{}\n", group, *count, *count == 1 ? "" : "s");
    };
    std::string text = fmt::format("to bring U to {} dB\n", levelText(wantedU_dB));
    for (std::size_t i = 0; i < more.ofFitting.size(); ++i)
        text += line(onOneLine(fit.fittings[i].name), more.ofFitting[i]);
    if (fit.through && fit.through->count > 1 && !more.ofFitting.empty())
        text += line("through the coupler", more.ofThrough);
    if (inVain)
        text += "what a group repeats, more readings of it do not lessen\n";
    return text;
}

} // namespace couplet
