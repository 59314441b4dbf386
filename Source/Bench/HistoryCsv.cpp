// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/HistoryCsv.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

namespace couplet {
namespace {

std::string field(const std::optional<double>& value, int decimals)
{
    return value ? fmt::format("{:.{}f}", roundedHalfAway(*value, decimals), decimals) : std::string();
}

// A cell that a spreadsheet takes as text, whatever it holds.
std::string cell(const std::string& text)
{
    const bool formula = !text.empty() && std::string("=+-@").find(text.front()) != std::string::npos;
    const std::string safe = formula ? "'" + text : text;
    if (safe.find_first_of(",\"\r\n") == std::string::npos)
        return safe;
    std::string quotedCell = "\"";
    for (const char c : safe)
        quotedCell += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quotedCell + "\"";
}

} // namespace

std::string csvOf(const ReferenceHistory& history)
{
    std::string text = "taken_at,offset_db,expanded_uncertainty_db,tone_dbfs,calibrator,source,fit_to_use,set_aside,"
                       "outside_limits,in_force,moved_db,correction_db,offset_with_correction_in_force_db\r\n";
    const auto yesNo = [](bool yes) { return yes ? "yes" : "no"; };
    for (const HistoryPoint& p : history.points)
        text += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{}\r\n", p.takenAt, field(p.offset_dB, 4),
                            field(p.U_dB ? std::optional(roundedUpward(*p.U_dB, 2)) : std::nullopt, 2),
                            field(p.tone_dBFS, 4), cell(p.calibrator), cell(p.source), yesNo(p.fitToUse),
                            cell(p.setAside), yesNo(p.outside), yesNo(p.current), field(p.moved_dB, 4),
                            field(p.correction_dB, 4), field(p.chain_dB, 4));
    return text;
}

} // namespace couplet
