// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/HistoryText.h"

#include "Command/ItemText.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <cmath>

namespace couplet {
namespace {

JsonValue number(const std::optional<double>& value)
{
    return value && std::isfinite(*value) ? JsonValue(roundedHalfAway(*value, 6)) : JsonValue{};
}

JsonValue textOrNull(const std::string& text)
{
    return text.empty() ? JsonValue{} : JsonValue(text);
}

std::optional<double> roundedU(const std::optional<double>& U_dB)
{
    return U_dB ? std::optional(roundedUpward(*U_dB, 2)) : std::nullopt;
}

std::string markOf(const HistoryPoint& p)
{
    if (!p.setAside.empty())
        return "set aside: " + p.setAside;
    if (!p.fitToUse)
        return "not fit to use";
    std::string mark = p.current ? "in force" : "";
    const auto add = [&mark](const std::string& more) { mark += (mark.empty() ? "" : ", ") + more; };
    if (p.outside)
        add("outside");
    if (p.moved_dB)
        add(fmt::format("kept although moved by {} dB", signedLevelText(*p.moved_dB)));
    return mark;
}

JsonList jsonList(const std::vector<std::string>& texts)
{
    JsonList list;
    for (const auto& text : texts)
        list.emplace_back(text);
    return list;
}

const char* verdictName(QuickCheck::Verdict verdict)
{
    switch (verdict) {
    case QuickCheck::Verdict::holds:
        return "holds";
    case QuickCheck::Verdict::moved:
        return "moved";
    case QuickCheck::Verdict::cannotTell:
        break;
    }
    return "cannot be told";
}

} // namespace

std::string textOf(const ReferenceHistory& history, const std::string& coupler)
{
    std::string text = fmt::format("coupler '{}'   {} reference{}   dB SPL at 0 dBFS\n", coupler, history.points.size(),
                                   history.points.size() == 1 ? "" : "s");
    std::vector<TextRow> rows;
    for (const HistoryPoint& p : history.points)
        rows.push_back(
            {p.takenAt, levelText(p.offset_dB), p.U_dB ? uncertaintyText(*p.U_dB) : "", p.calibrator, markOf(p)});
    text += alignedText(rows);
    const ControlChart& chart = history.chart;
    if (chart.mean_dB)
        text += fmt::format("mean {} of {} that count{}", levelText(*chart.mean_dB), chart.counted,
                            history.points.front().beforeStep ? " since the step" : "");
    if (chart.mean_dB && chart.deviation_dB)
        text += fmt::format("   s {:.3f} dB", *chart.deviation_dB);
    if (chart.low_dB)
        text += fmt::format("   3 s limits {} to {}", levelText(*chart.low_dB), levelText(*chart.high_dB));
    if (chart.mean_dB)
        text += "\n";
    if (chart.drift)
        text += fmt::format("drift {} \u00b1{:.4f} dB a day\n", signedText(chart.drift->dBPerDay, 4),
                            roundedUpward(chart.drift->U_dBPerDay, 4));
    if (!history.dueText.empty())
        text += history.dueText + "\n";
    for (const auto& note : history.notes)
        text += "note: " + note + "\n";
    return text;
}

JsonObject jsonOf(const ReferenceHistory& history, const std::string& coupler)
{
    JsonList references;
    for (const HistoryPoint& p : history.points)
        references.push_back(JsonObject{{"taken_at", p.takenAt},
                                        {"offset_db", number(p.offset_dB)},
                                        {"expanded_uncertainty_db", number(roundedU(p.U_dB))},
                                        {"tone_dbfs", number(p.tone_dBFS)},
                                        {"calibrator", textOrNull(p.calibrator)},
                                        {"source", textOrNull(p.source)},
                                        {"fit_to_use", p.fitToUse},
                                        {"set_aside", textOrNull(p.setAside)},
                                        {"outside_limits", p.outside},
                                        {"in_force", p.current},
                                        {"moved_db", number(p.moved_dB)},
                                        {"correction_db", number(p.correction_dB)},
                                        {"offset_with_correction_in_force_db", number(p.chain_dB)}});
    const ControlChart& chart = history.chart;
    JsonValue limits;
    if (chart.low_dB)
        limits = JsonList{number(chart.low_dB), number(chart.high_dB)};
    auto notes = history.notes;
    if (!chart.low_dB)
        notes.push_back(fmt::format("limits and drift need {} references that count", enoughForLimits));
    const auto drift = [&](double DriftRate::*member) {
        return chart.drift ? number((*chart.drift).*member) : JsonValue{};
    };
    return {{"coupler", coupler},
            {"references", std::move(references)},
            {"counted", static_cast<double>(chart.counted)},
            {"mean_db", number(chart.mean_dB)},
            {"deviation_db", number(chart.deviation_dB)},
            {"limits_db", std::move(limits)},
            {"drift_db_per_day", drift(&DriftRate::dBPerDay)},
            {"drift_uncertainty_db_per_day", drift(&DriftRate::U_dBPerDay)},
            {"age_s", number(history.age_s)},
            {"due", textOrNull(history.due)},
            {"stale", history.stale},
            {"notes", jsonList(notes)}};
}

std::string textOf(const QuickCheck& check, const std::string& coupler)
{
    std::string text = fmt::format("coupler '{}'   {}\n", coupler, check.sentence);
    for (const auto& cause : check.causes)
        text += "  likely: " + cause + "\n";
    if (!check.correctionNote.empty())
        text += "note: " + check.correctionNote + "\n";
    return text;
}

JsonObject jsonOf(const QuickCheck& check)
{
    std::vector<std::string> notes{check.sentence};
    if (!check.correctionNote.empty())
        notes.push_back(check.correctionNote);
    if (check.outcome)
        notes.insert(notes.end(), check.outcome->notes.begin(), check.outcome->notes.end());
    return {{"verdict", verdictName(check.verdict)},
            {"change_db", number(check.change_dB)},
            {"allowed_change_db", number(check.allowed_dB)},
            {"since", textOrNull(check.since)},
            {"causes", jsonList(check.causes)},
            {"notes", jsonList(notes)}};
}

} // namespace couplet
