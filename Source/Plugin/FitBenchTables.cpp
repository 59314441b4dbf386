// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of FitBench that takes what comes whole: an earphone of the library, a table, an empty sheet.
#include "Plugin/FitBench.h"

#include "Library/Utf8.h"
#include "Plugin/FitInsertions.h"

#include <fmt/format.h>

#include <utility>
#include <variant>

namespace couplet {

void FitBench::addEarphone(const std::string& nameInLibrary)
{
    beginAction();
    const auto found = earphoneNamed(nameInLibrary);
    if (!found)
        return refuse(fmt::format("the library has no earphone {} whose rating states frequency, impedance and "
                                  "tolerance; complete it there",
                                  inQuotes(nameInLibrary)));
    const auto unread = unreadEarphone(*found);
    if (!unread)
        return refuse(unread.fault().sentence);
    putEarphone(*unread);
}

// The sheet's own settings stay: a table has none.
void FitBench::takeTable(Outcome<FitInput> table)
{
    beginAction();
    if (!table)
        return refuse(table.fault().sentence);
    const bool taken = change("a table of readings", [&](FitSheet& next) -> std::string {
        for (const auto& e : table->earphones)
            if (const auto fault = markFault(e.setAside); !fault.empty())
                return fmt::format("{} in the table cannot be taken: {}", inQuotes(e.name), fault);
        auto settings = next.input.settings;
        next.input = *std::move(table);
        next.input.settings = std::move(settings);
        next.zero_dB.reset();
        next.coupler = couplerNow();
        return std::string();
    });
    if (taken)
        moveTo({});
}

void FitBench::takePasted(const Outcome<PastedReadings>& pasted)
{
    if (!pasted)
        takeTable(pasted.fault());
    else if (const auto* table = std::get_if<FitInput>(&*pasted))
        takeTable(*table);
    else
        takeColumn(std::get<std::vector<double>>(*pasted));
}

// It says not what it is of: it is of what is being read.
void FitBench::takeColumn(const std::vector<double>& levels_dB)
{
    beginAction();
    const auto name = inQuotes(nameOf(target)), many = countText(levels_dB.size());
    if (target.kind == FitKind::earphone)
        return refuse(fmt::format("a column of readings belongs to a fitting, or through the coupler, and the next "
                                  "reading is of {}: select where they belong, or type this earphone's level",
                                  name));
    const bool through = target.kind == FitKind::through;
    const bool taken = change(fmt::format("{} pasted", many), [&](FitSheet& next) -> std::string {
        if (auto why = whyNoReading(); !why.empty())
            return why;
        FitGroup* group = groupOf(next, target);
        if (group == nullptr)
            return "that fitting is not there any more";
        for (const double level_dB : levels_dB)
            group->readings.push_back({level_dB, {}, {}, {}, {}});
        return {};
    });
    if (taken)
        shown.told = fmt::format("{} {} taken, {}.", many, levels_dB.size() == 1 ? "was" : "were",
                                 through ? "through the coupler" : "into " + name);
}

void FitBench::clear()
{
    const bool cleared = change("an empty sheet", [&](FitSheet& next) {
        next.input.fittings.clear();
        next.input.through.readings.clear();
        next.input.earphones.clear();
        next.zero_dB.reset();
        return std::string();
    });
    if (cleared)
        moveTo({});
}

} // namespace couplet
