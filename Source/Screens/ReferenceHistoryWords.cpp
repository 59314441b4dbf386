// SPDX-License-Identifier: GPL-3.0-or-later
//
// The words of ReferenceWords that speak of the history and the budget.
#include "Screens/ReferenceWords.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {

std::string historyTitle(const ReferenceHistory& history)
{
    return "Offset of this coupler, " + countedText(history.points.size(), "reference");
}

std::string bandWords(const ReferenceHistory& history)
{
    const ControlChart& chart = history.chart;
    if (!chart.mean_dB)
        return history.points.empty() ? "no reference yet" : "none of them counts";
    if (!chart.low_dB || !chart.deviation_dB)
        return fmt::format("limits need {} references that count; {} do", enoughForLimits, chart.counted);
    return fmt::format("band: mean \u00b1 3 s, s = {:.2f}, of the references {}",
                       deviationForLimits_dB(*chart.deviation_dB),
                       history.points.front().beforeStep ? "since the step" : "kept");
}

std::string driftWords(const ReferenceHistory& history)
{
    const auto& drift = history.chart.drift;
    if (!drift)
        return {};
    const auto perDay = fmt::format("{:.4f}", std::abs(roundedHalfAway(drift->dBPerDay, 4)));
    return fmt::format("drift {}{} \u00b1{:.4f} dB a day{}", drift->dBPerDay < 0.0 ? "\u2212" : "+", perDay,
                       roundedUpward(drift->U_dBPerDay, 4), drift->isReal() ? ", real" : ", may be none");
}

std::string dueWords(const ReferenceHistory& history)
{
    if (history.dueText.empty() || history.due.empty() || history.stale)
        return history.dueText;
    return history.dueText + ", " + minuteText(history.due);
}

std::string standingWords(const HistoryPoint& point)
{
    if (!point.setAside.empty())
        return "set aside: " + point.setAside;
    if (!point.fitToUse)
        return "not fit to use";
    std::string text = point.current ? "in force" : "";
    const auto add = [&text](const std::string& more) { text += (text.empty() ? "" : ", ") + more; };
    if (point.outside)
        add("outside the band");
    if (point.moved_dB)
        add("moved by " + signedLevelText(*point.moved_dB) + " dB");
    return text;
}

std::string pointWords(const HistoryPoint& point)
{
    return minuteText(point.takenAt) + ", " + levelText(point.offset_dB) +
           (point.U_dB ? " " + uncertaintyText(*point.U_dB) : "");
}

std::string budgetTitle(const ReferenceView& view)
{
    if (view.expanded)
        return "Where the " + uncertaintyText(view.expanded->U_dB) + " dB comes from";
    return "Where the uncertainty comes from";
}

std::string degreesText(double degrees)
{
    constexpr double asGoodAsInfinite = 9999.5;
    if (!(degrees < asGoodAsInfinite))
        return "\u221e";
    const bool whole = std::abs(degrees - std::round(degrees)) < 0.05;
    return whole || degrees >= 100.0 ? fmt::format("{:.0f}", degrees) : fmt::format("{:.1f}", degrees);
}

std::string shareText(double percent)
{
    return fmt::format("{:.0f} %", percent);
}

std::string standardText(double u_dB)
{
    return fmt::format("{:.3f}", roundedHalfAway(u_dB, 3));
}

std::vector<std::string> remarks(const ReferenceView& view)
{
    std::vector<std::string> all;
    const auto holds = [](const std::vector<std::string>& texts, const std::string& text) {
        return std::find(texts.begin(), texts.end(), text) != texts.end();
    };
    // What an uncertainty lacks stands in the budget's place.
    const auto add = [&](const std::vector<std::string>& more) {
        for (const auto& one : more)
            if (const auto sentence = asSentence(one); !holds(all, sentence) && !holds(view.missing, one))
                all.push_back(sentence);
    };
    for (const Check& check : view.checks) // the first of them stands below the sign
        if (!check.passes && check.reason != view.whyNot && check.reason != view.notice)
            add({check.reason});
    add(view.notes);
    add(view.history.notes);
    add(view.cannotBeKnown);
    return all;
}

} // namespace couplet
