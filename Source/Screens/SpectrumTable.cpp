// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/QuantityText.h"
#include "Screens/SpectrumContent.h"

#include <fmt/format.h>

namespace couplet {
namespace {

std::string cell(const std::optional<double>& level)
{
    return level ? levelText(*level, Minus::hyphen) : "";
}

} // namespace

std::string spectrumTable(const SpectrumContent& content)
{
    const auto& s = content.spectrum;
    if (!content.why.empty())
        return content.why + "\n";
    std::string text = fmt::format("Spectrum, {}{}; {}\n", content.unit, content.state, responseWords(s));
    text += linesWords(s) + "\nline, Hz\tlevel, " + content.unit + "\n";
    for (const auto& point : s.lines)
        text += fmt::format("{:.2f}\t{}\n", point.frequency_Hz, cell(point.level_dB));
    text += fmt::format("\nbands: third octaves, averaged over {:.1f} s\nband, Hz\tlevel, {}\n", s.bandsAveraged_s,
                        content.unit);
    for (const auto& band : s.bands)
        text += fmt::format("{}\t{}\n", band.nominal_Hz, cell(band.level_dB));
    return text;
}

std::string ordersTable(const SpectrumContent& content)
{
    if (!content.whyNoOrders.empty())
        return content.whyNoOrders + "\n";
    std::string text = "Distortion by order" + content.state + "\n";
    if (content.tone)
        text += "tone\t" + frequencyText(*content.tone) + "\n";
    if (content.distortion_percent)
        text += fmt::format("total, orders 2 to 10, % of the tone\t{}\n", percentText(*content.distortion_percent));
    text += "order\tfrequency, Hz\tbelow the tone, dB\t% of the tone\n";
    for (const auto& order : content.spectrum.orders)
        text += fmt::format("{}\t{:.2f}\t{}\t{}\n", order.order, order.frequency_Hz, cell(order.belowTone_dB),
                            order.percent ? percentText(*order.percent) : "");
    return text;
}

} // namespace couplet
