// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of FitBench that takes what comes whole: an earphone of the library, a table, an empty sheet.
#include "Plugin/FitBench.h"

#include "Bench/SimulatedPapers.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace couplet {

void FitBench::addEarphone(const std::string& nameInLibrary)
{
    beginAction();
    std::vector<Earphone> known = earphones;
    if (wasSimulated) {
        known.clear();
        const auto scenario = demoScenario();
        for (std::size_t i = 0; i < scenario.earphones.size(); ++i)
            known.push_back(earphoneOnPaper(scenario, i));
    }
    const auto found = std::find_if(known.begin(), known.end(), [&](const auto& e) { return e.name == nameInLibrary; });
    if (found == known.end())
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
            if (e.setAside == notReadYet)
                return fmt::format("{} is set aside as '{}', which marks one that was not read here: give the reason "
                                   "in other words",
                                   inQuotes(e.name), notReadYet);
        auto settings = next.input.settings;
        next.input = *std::move(table);
        next.input.settings = std::move(settings);
        next.zero_dB.reset();
        return std::string();
    });
    if (taken)
        moveTo({});
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
