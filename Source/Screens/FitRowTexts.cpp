// SPDX-License-Identifier: GPL-3.0-or-later
//
// What stands in the rows of the fit's table.
#include "Bench/FitEarphones.h"
#include "Library/Utf8.h"
#include "Metrology/Repeats.h"
#include "Quantities/QuantityText.h"
#include "Screens/FitRows.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

using What = FitRow::What;

std::optional<double> firstTime(const FitInput& input)
{
    std::optional<double> first;
    const auto look = [&first](const auto& readings) {
        for (const auto& reading : readings)
            if (reading.at_s && (!first || *reading.at_s < *first))
                first = reading.at_s;
    };
    for (const auto& fitting : input.fittings)
        look(fitting.readings);
    look(input.through.readings);
    for (const auto& earphone : input.earphones)
        look(earphone.insertions);
    return first;
}

// Of readings or of insertions.
template <class Reading> void addStatistics(FitRowTexts& texts, const std::vector<Reading>& readings)
{
    const auto levels = levelsThatCount(readings);
    texts.count = levels.size() == readings.size() ? fmt::format("{}", levels.size())
                                                   : fmt::format("{} of {}", levels.size(), readings.size());
    texts.scatter.clear();
    if (const auto repeats = repeatsOf(levels)) {
        texts.mean = levelText(repeats->mean);
        texts.scatter = levelText(repeats->deviation);
    }
    else if (!levels.empty()) {
        texts.mean = levelText(levels.front());
        texts.scatter = "unknown";
    }
}

FitRowTexts groupTexts(const FitView& view, const FitRow& row)
{
    FitRowTexts texts;
    texts.name = nameOf(view, row.target);
    const auto* group = groupOf(view, row.target);
    if (group == nullptr)
        return texts;
    addStatistics(texts, group->readings);
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

std::string ratedText(const FitEarphone& earphone)
{
    return earphone.tolerance_dB ? fmt::format("rated ±{:.1f}", *earphone.tolerance_dB) : "no tolerance";
}

FitRowTexts earphoneTexts(const FitView& view, const FitRow& row)
{
    FitRowTexts texts;
    const auto* earphone = earphoneOf(view, row.target);
    if (earphone == nullptr)
        return texts;
    texts.name = nameOf(view, row.target);
    texts.scatter = ratedText(*earphone);
    if (!earphone->insertions.empty())
        addStatistics(texts, insertionsForOneDrive(*earphone));
    texts.says = levelText(earphone->says_dB());
    const auto* fitted = fittedEarphoneOf(view, row.target);
    const bool odd = fitted != nullptr && fitted->contradicts.value_or(false);
    texts.aside = earphone->keptAside || !earphone->setAside.empty();
    texts.attention =
        odd || (fitted != nullptr && !fitted->outliers.empty()) || insertionsDiffer_dB(*earphone).has_value();
    if (earphone->setAside == notReadYet || hasNoInsertionLeft(*earphone))
        texts.says.clear(); // nothing
    if (earphone->setAside == notReadYet)
        texts.note = notReadYet;
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
    // That it contradicts the mark says too.
    texts.shortNote = !earphone->setAside.empty() ? "aside" : earphone->keptAside ? "kept" : "";
    if (fitted != nullptr && fitted->takesPart && fitted->without)
        texts.without = levelText(fitted->without->mean_dB);
    return texts;
}

// What the insertions are held against.
FitRowTexts ratingTexts(const FitView& view, const FitRow& row)
{
    FitRowTexts texts;
    const auto* earphone = earphoneOf(view, row.target);
    if (earphone == nullptr)
        return texts;
    texts.name = "expected";
    texts.mean = levelText(earphone->expected_dB);
    texts.note = ratedText(*earphone);
    if (earphone->u_dB)
        texts.note += fmt::format(", u {:.2f}", *earphone->u_dB);
    if (const auto became = earphoneTexts(view, row).note; !became.empty())
        texts.note = became + "; " + texts.note;
    if (earphone->setAside == everyInsertionAside) {
        texts.note = "every insertion is set aside: it says nothing";
        texts.shortNote = "no insertion counts";
    }
    else if (!earphone->setAside.empty())
        texts.note = "set aside: " + onOneLine(earphone->setAside);
    return texts;
}

void addOutlier(FitRowTexts& texts, const std::vector<Outlier>& outliers, std::size_t reading)
{
    for (const auto& outlier : outliers)
        if (outlier.index == reading) {
            texts.attention = true;
            texts.shortNote = outlier.straggler ? "straggles" : "outlier";
            texts.note =
                fmt::format("{}: Grubbs' {:.2f} above {:.2f}", texts.shortNote, outlier.distance, outlier.critical);
            texts.shortNote += ", Grubbs' test";
        }
}

FitRowTexts insertionTexts(const FitView& view, const FitRow& row, const FitEarphone& earphone)
{
    FitRowTexts texts;
    if (row.reading >= earphone.insertions.size())
        return texts;
    const auto& insertion = earphone.insertions[row.reading];
    texts.name = fmt::format("insertion {}", row.reading + 1);
    texts.mean = levelText(insertion.level_dB);
    if (const auto first = firstTime(view.input); first && insertion.at_s)
        texts.count = sinceFirstText(*insertion.at_s - *first);
    texts.aside = !insertion.setAside.empty();
    if (const auto* fitted = fittedEarphoneOf(view, row.target); fitted != nullptr && !texts.aside)
        addOutlier(texts, fitted->outliers, row.reading);
    const auto join = [&texts](const std::string& more) { texts.note += (texts.note.empty() ? "" : "; ") + more; };
    if (insertion.expected_dB.value_or(earphone.expected_dB) != earphone.expected_dB) // read with another drive
        join("expected " + levelText(*insertion.expected_dB));
    if (row.reading > 0) // before the first there was nothing to lift
        join(insertion.seatedAnew ? "seated anew" : "not seen lifted");
    if (!texts.aside)
        return texts;
    texts.shortNote = "set aside: " + onOneLine(insertion.setAside);
    join(texts.shortNote);
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
        return earphone->insertions.empty() ? earphoneDetail(*earphone) : insertionTexts(view, row, *earphone);
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
        addOutlier(texts, fitted->outliers, row.reading);
    return texts;
}

} // namespace

FitRowTexts fitRowTexts(const FitView& view, const FitRow& row)
{
    if (row.what == What::reading)
        return readingTexts(view, row);
    if (row.what == What::rating)
        return ratingTexts(view, row);
    return row.what == What::earphone ? earphoneTexts(view, row) : groupTexts(view, row);
}

std::string fitRowSpoken(const FitView& view, const FitRow& row)
{
    const auto texts = fitRowTexts(view, row);
    std::string all = texts.name;
    const bool single = isSingle(row), earphone = row.what == What::earphone;
    const bool whole = earphone && texts.count.empty(); // its tolerance stands where others have their scatter
    const auto add = [&all](const char* what, const std::string& text) {
        if (!text.empty())
            all += std::string(", ") + what + text;
    };
    add(single ? "after " : earphone ? "insertions " : "readings ", texts.count);
    add(single ? "" : "mean dB ", texts.mean);
    add(whole ? "" : "scatter ", texts.scatter);
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
