// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitRows.h"

#include "Bench/FitEarphones.h"
#include "Library/Utf8.h"
#include "Metrology/Repeats.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

using What = FitRow::What;

std::pair<FitKind, std::string> keyOf(const FitView& view, const FitTarget& target)
{
    if (const auto* group = groupOf(view, target))
        return {target.kind, group->name};
    const auto* earphone = earphoneOf(view, target);
    return {target.kind, earphone == nullptr ? std::string() : earphone->name};
}

void addRow(std::vector<FitRow>& rows, const FitView& view, const OpenedGroups& opened, What what,
            const FitTarget& target)
{
    rows.push_back({what, target, 0});
    if (!isOpened(view, opened, target))
        return;
    const auto* group = groupOf(view, target);
    const std::size_t readings = group != nullptr ? group->readings.size() : 1; // an earphone has one
    for (std::size_t i = 0; i < readings; ++i)
        rows.push_back({What::reading, target, i});
}

std::vector<double> countingLevels(const FitGroup& group)
{
    std::vector<double> levels;
    for (const auto& reading : group.readings)
        if (reading.setAside.empty())
            levels.push_back(reading.level_dB);
    return levels;
}

std::optional<double> firstTime(const FitInput& input)
{
    std::optional<double> first;
    const auto look = [&first](const FitGroup& group) {
        for (const auto& reading : group.readings)
            if (reading.at_s && (!first || *reading.at_s < *first))
                first = reading.at_s;
    };
    for (const auto& fitting : input.fittings)
        look(fitting);
    look(input.through);
    return first;
}

FitRowTexts groupTexts(const FitView& view, const FitRow& row)
{
    FitRowTexts texts;
    texts.name = nameOf(view, row.target);
    const auto* group = groupOf(view, row.target);
    if (group == nullptr)
        return texts;
    const auto levels = countingLevels(*group);
    texts.count = levels.size() == group->readings.size()
                      ? fmt::format("{}", levels.size())
                      : fmt::format("{} of {}", levels.size(), group->readings.size());
    if (const auto repeats = repeatsOf(levels)) {
        texts.mean = levelText(repeats->mean);
        texts.scatter = levelText(repeats->deviation);
    }
    else if (!levels.empty()) {
        texts.mean = levelText(levels.front());
        texts.scatter = "unknown";
    }
    const auto* fitted = fittedOf(view, row.target);
    if (fitted == nullptr)
        return texts;
    texts.attention = !fitted->outliers.empty() || fitted->trend.scatterGrows || fitted->trend.drifts;
    if (fitted->says_dB)
        texts.says = levelText(*fitted->says_dB);
    if (fitted->without)
        texts.without = levelText(fitted->without->mean_dB);
    return texts;
}

FitRowTexts earphoneTexts(const FitView& view, const FitRow& row)
{
    FitRowTexts texts;
    const auto* earphone = earphoneOf(view, row.target);
    if (earphone == nullptr)
        return texts;
    texts.name = nameOf(view, row.target);
    texts.scatter = earphone->tolerance_dB ? fmt::format("rated ±{:.1f}", *earphone->tolerance_dB) : "no tolerance";
    texts.says = levelText(earphone->says_dB());
    const auto* fitted = fittedEarphoneOf(view, row.target);
    const bool odd = fitted != nullptr && fitted->contradicts.value_or(false);
    texts.aside = earphone->keptAside || !earphone->setAside.empty();
    texts.attention = odd;
    if (earphone->setAside == notReadYet) {
        texts.note = notReadYet;
        texts.says.clear(); // nothing yet
    }
    else if (!earphone->setAside.empty())
        texts.note = "set aside";
    else if (odd)
        texts.note = earphone->keptAside ? "aside, contradicts" : "contradicts";
    else if (earphone->keptAside)
        texts.note = "kept aside";
    else if (fitted != nullptr && !fitted->takesPart) {
        texts.note = "takes no part";
        texts.aside = true;
    }
    if (fitted != nullptr && fitted->takesPart && fitted->without)
        texts.without = levelText(fitted->without->mean_dB);
    return texts;
}

FitRowTexts earphoneDetail(const FitEarphone& earphone)
{
    FitRowTexts texts;
    texts.name = "its reading";
    texts.mean = levelText(earphone.level_dB);
    texts.note = "expected " + levelText(earphone.expected_dB) + " dB";
    if (earphone.u_dB)
        texts.note += fmt::format(", u {:.2f}", *earphone.u_dB);
    texts.aside = !earphone.setAside.empty();
    if (earphone.setAside == notReadYet)
        texts.mean = notReadYet;
    else if (texts.aside)
        texts.note = "set aside: " + onOneLine(earphone.setAside);
    return texts;
}

FitRowTexts readingTexts(const FitView& view, const FitRow& row)
{
    if (const auto* earphone = earphoneOf(view, row.target))
        return earphoneDetail(*earphone);
    FitRowTexts texts;
    const auto* group = groupOf(view, row.target);
    if (group == nullptr || row.reading >= group->readings.size())
        return texts;
    const auto& reading = group->readings[row.reading];
    texts.name = fmt::format("reading {}", row.reading + 1);
    texts.mean = levelText(reading.level_dB);
    if (const auto first = firstTime(view.input); first && reading.at_s)
        texts.count = sinceFirstText(*reading.at_s - *first);
    texts.aside = !reading.setAside.empty();
    if (texts.aside) {
        texts.note = "set aside: " + onOneLine(reading.setAside);
        return texts;
    }
    if (const auto* fitted = fittedOf(view, row.target))
        for (const auto& outlier : fitted->outliers)
            if (outlier.index == row.reading) {
                texts.attention = true;
                texts.shortNote = outlier.straggler ? "straggles" : "outlier";
                texts.note =
                    fmt::format("{}: Grubbs' {:.2f} above {:.2f}", texts.shortNote, outlier.distance, outlier.critical);
                texts.shortNote += ", Grubbs' test";
            }
    return texts;
}

} // namespace

std::vector<FitRow> fitRows(const FitView& view, const OpenedGroups& opened)
{
    std::vector<FitRow> rows;
    for (std::size_t i = 0; i < view.input.fittings.size(); ++i)
        addRow(rows, view, opened, What::fitting, {FitKind::fitting, i});
    addRow(rows, view, opened, What::through, {FitKind::through, 0});
    for (std::size_t i = 0; i < view.input.earphones.size(); ++i)
        addRow(rows, view, opened, What::earphone, {FitKind::earphone, i});
    return rows;
}

const FitGroup* groupOf(const FitView& view, const FitTarget& target)
{
    if (target.kind == FitKind::through)
        return &view.input.through;
    const auto& fittings = view.input.fittings;
    return target.kind == FitKind::fitting && target.index < fittings.size() ? &fittings[target.index] : nullptr;
}

const FitEarphone* earphoneOf(const FitView& view, const FitTarget& target)
{
    const auto& earphones = view.input.earphones;
    return target.kind == FitKind::earphone && target.index < earphones.size() ? &earphones[target.index] : nullptr;
}

std::string nameOf(const FitView& view, const FitTarget& target)
{
    if (target.kind == FitKind::through)
        return "through the coupler";
    if (const auto* earphone = earphoneOf(view, target))
        return onOneLine(earphone->name);
    const auto* group = groupOf(view, target);
    return group == nullptr ? std::string() : onOneLine(group->name);
}

bool isOpened(const FitView& view, const OpenedGroups& opened, const FitTarget& target)
{
    return std::find(opened.begin(), opened.end(), keyOf(view, target)) != opened.end();
}

const FittedGroup* fittedOf(const FitView& view, const FitTarget& target)
{
    const auto* group = groupOf(view, target);
    if (group == nullptr || !view.fit)
        return nullptr;
    if (target.kind == FitKind::through)
        return view.fit->through ? &*view.fit->through : nullptr;
    const auto& all = view.fit->fittings;
    const auto found = std::find_if(all.begin(), all.end(), [&](const auto& f) { return f.name == group->name; });
    return found == all.end() ? nullptr : &*found;
}

const FittedEarphone* fittedEarphoneOf(const FitView& view, const FitTarget& target)
{
    const auto* earphone = earphoneOf(view, target);
    if (earphone == nullptr || !view.fit)
        return nullptr;
    const auto& all = view.fit->earphones;
    if (target.index < all.size() && all[target.index].name == earphone->name) // two may have one name
        return &all[target.index];
    const auto found = std::find_if(all.begin(), all.end(), [&](const auto& e) { return e.name == earphone->name; });
    return found == all.end() ? nullptr : &*found;
}

FitRowTexts fitRowTexts(const FitView& view, const FitRow& row)
{
    if (row.what == What::reading)
        return readingTexts(view, row);
    return row.what == What::earphone ? earphoneTexts(view, row) : groupTexts(view, row);
}

std::string fitRowSpoken(const FitView& view, const FitRow& row)
{
    const auto texts = fitRowTexts(view, row);
    std::string all = texts.name;
    const bool single = row.what == What::reading;
    const auto add = [&all](const char* what, const std::string& text) {
        if (!text.empty())
            all += std::string(", ") + what + text;
    };
    add(single ? "after " : "readings ", texts.count);
    add(single ? "" : "mean dB ", texts.mean);
    add(row.what == What::earphone ? "" : "scatter ", texts.scatter);
    add("says ", texts.says);
    add("without it ", texts.without);
    add("", texts.note);
    add("", texts.attention && texts.note.empty() ? "something is odd, see the notes" : "");
    return all;
}

std::string sinceFirstText(double since_s)
{
    const auto whole = static_cast<long long>(std::llround(std::min(std::abs(since_s), 1e12)));
    const auto h = whole / 3600, min = whole / 60 % 60, s = whole % 60;
    const char* sign = since_s <= -0.5 ? "\u2212" : "";
    return h > 0 ? fmt::format("{}{}:{:02}:{:02} h", sign, h, min, s) : fmt::format("{}{}:{:02} min", sign, min, s);
}

} // namespace couplet
