// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of FitBench that writes readings down.
#include "Plugin/FitBench.h"

#include "Library/Names.h"
#include "Library/Utf8.h"
#include "Plugin/FitInsertions.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace couplet {
namespace {

constexpr std::size_t longestReason = 200;

std::string levelFault(double level_dB)
{
    if (level_dB >= lowestFitLevel_dB && level_dB <= highestFitLevel_dB)
        return {};
    return fmt::format("a level must be within {:g} to {:g} dB; type it again", lowestFitLevel_dB, highestFitLevel_dB);
}

std::string nameFault(const std::string& name)
{
    const auto characters = charactersOf(name);
    if (characters && !characters->empty() && characters->size() <= longestFitName)
        return {};
    return fmt::format("a name has 1 to {} characters; type another", longestFitName);
}

std::string reasonFault(const std::string& reason)
{
    const auto characters = charactersOf(reason);
    if (characters && characters->size() <= longestReason)
        return {};
    return fmt::format("the reason is longer than {} characters; shorten it", longestReason);
}

template <class List> bool holdsName(const List& list, const std::string& name)
{
    return std::any_of(list.begin(), list.end(), [&](const auto& each) { return lookTheSame(each.name, name); });
}

const char* noSuchReading = "that reading is not there any more";
const char* noSuchFitting = "that fitting is not there any more";

} // namespace

FitGroup* FitBench::groupOf(FitSheet& next, const FitTarget& t) const
{
    auto& input = next.input;
    if (t.kind == FitKind::through)
        return &input.through;
    if (t.kind == FitKind::fitting && t.index == input.fittings.size() && isTarget(t))
        input.fittings.push_back({newFittingName(next), {}});
    return t.kind == FitKind::fitting && t.index < input.fittings.size() ? &input.fittings[t.index] : nullptr;
}

std::size_t FitBench::readingsOf(const FitTarget& t) const
{
    const auto& input = sheet().input;
    if (t.kind == FitKind::through)
        return input.through.readings.size();
    if (t.kind == FitKind::fitting)
        return t.index < input.fittings.size() ? input.fittings[t.index].readings.size() : 0;
    if (t.index >= input.earphones.size() || input.earphones[t.index].setAside == notReadYet)
        return 0;
    return std::max<std::size_t>(1, input.earphones[t.index].insertions.size());
}

void FitBench::addFitting(const std::string& wanted)
{
    const auto name = wanted.empty() ? newFittingName(sheet()) : keptName(wanted);
    const bool added = change("fitting " + inQuotes(name), [&](FitSheet& next) -> std::string {
        auto& fittings = next.input.fittings;
        if (auto fault = nameFault(name); !fault.empty())
            return fault;
        if (holdsName(fittings, name))
            return fmt::format("there is a fitting {} already; give this one another name", inQuotes(name));
        if (fittings.size() >= mostFittings)
            return fmt::format("there are {} fittings, and no more are taken", mostFittings);
        fittings.push_back({name, {}});
        return {};
    });
    if (added)
        moveTo({FitKind::fitting, sheet().input.fittings.size() - 1});
}

void FitBench::renameFitting(std::size_t index, const std::string& written)
{
    const auto name = keptName(written);
    change("the name " + inQuotes(name), [&](FitSheet& next) -> std::string {
        auto& fittings = next.input.fittings;
        if (index >= fittings.size())
            return noSuchFitting;
        if (auto fault = nameFault(name); !fault.empty())
            return fault;
        if (!lookTheSame(name, fittings[index].name) && holdsName(fittings, name))
            return fmt::format("there is a fitting {} already; give this one another name", inQuotes(name));
        fittings[index].name = name;
        return {};
    });
}

void FitBench::removeFitting(std::size_t index)
{
    const auto name = nameOf({FitKind::fitting, index});
    const bool removed = change("removal of " + inQuotes(name), [&](FitSheet& next) -> std::string {
        auto& fittings = next.input.fittings;
        if (index >= fittings.size())
            return noSuchFitting;
        fittings.erase(fittings.begin() + static_cast<std::ptrdiff_t>(index));
        return {};
    });
    if (removed)
        followRemoval({FitKind::fitting, index});
}

void FitBench::addReading(const FitTarget& t, double level_dB)
{
    change(fmt::format("reading {} dB", levelText(level_dB)), [&](FitSheet& next) -> std::string {
        if (auto why = whyNoReading(); !why.empty())
            return why;
        if (auto fault = levelFault(level_dB); !fault.empty())
            return fault;
        if (t.kind == FitKind::earphone)
            return addEarphoneLevel(next.input, t.index, level_dB);
        FitGroup* group = groupOf(next, t);
        if (group == nullptr)
            return noSuchFitting;
        group->readings.push_back({level_dB, {}, {}, {}, {}});
        return {};
    });
}

void FitBench::changeReading(const FitTarget& t, std::size_t reading, double level_dB)
{
    change(fmt::format("reading {} dB", levelText(level_dB)), [&](FitSheet& next) -> std::string {
        if (auto fault = levelFault(level_dB); !fault.empty())
            return fault;
        if (t.kind == FitKind::earphone)
            return changeEarphoneLevel(next.input, t.index, reading, level_dB);
        FitGroup* group = groupOf(next, t);
        if (group == nullptr || reading >= group->readings.size())
            return noSuchReading;
        group->readings[reading].level_dB = level_dB;
        return {};
    });
}

void FitBench::setReadingAside(const FitTarget& t, std::size_t reading, const std::string& reason)
{
    const auto& phones = sheet().input.earphones;
    const bool insertion = t.kind == FitKind::earphone;
    if (insertion && t.index < phones.size() && phones[t.index].insertions.empty())
        return setEarphoneAside(t.index, reason); // given whole, it has but that reading
    const std::string what = insertion ? "an insertion" : "a reading";
    change(what + (reason.empty() ? " counts again" : " set aside"), [&](FitSheet& next) -> std::string {
        if (auto fault = reasonFault(reason); !fault.empty())
            return fault;
        if (insertion)
            return setInsertionAside(next.input, t.index, reading, reason);
        FitGroup* group = groupOf(next, t);
        if (group == nullptr || reading >= group->readings.size())
            return noSuchReading;
        group->readings[reading].setAside = reason;
        return {};
    });
}

void FitBench::addEarphone(const FitEarphone& e)
{
    if (const auto fault = markFault(e.setAside); !fault.empty()) {
        beginAction();
        return refuse(fault);
    }
    putEarphone(e);
}

std::string FitBench::faultOf(const FitEarphone& e, const std::vector<FitEarphone>& others) const
{
    const auto usable = [](const std::optional<double>& u) { return !u || (*u >= 0.0 && *u <= 100.0); };
    if (auto fault = nameFault(e.name); !fault.empty())
        return fault;
    if (holdsName(others, e.name))
        return fmt::format("{} is there already: its next reading joins it, or give each side a name",
                           inQuotes(e.name));
    for (const double level_dB : {e.level_dB, e.expected_dB})
        if (auto fault = levelFault(level_dB); !fault.empty())
            return fault;
    if (!usable(e.tolerance_dB) || !usable(e.u_dB))
        return "tolerance and uncertainty must be within 0 to 100 dB; correct them";
    return reasonFault(e.setAside);
}

void FitBench::putEarphone(const FitEarphone& e)
{
    change(inQuotes(e.name), [&](FitSheet& next) -> std::string {
        auto& phones = next.input.earphones;
        if (auto why = e.setAside != notReadYet ? whyNoReading() : std::string(); !why.empty())
            return why;
        if (auto fault = faultOf(e, phones); !fault.empty())
            return fault;
        if (phones.size() >= mostFitEarphones)
            return fmt::format("there are {} earphones, and no more are taken", mostFitEarphones);
        phones.push_back(e);
        return {};
    });
}

void FitBench::changeEarphone(std::size_t index, const FitEarphone& e)
{
    change("correction of " + inQuotes(nameOf({FitKind::earphone, index})), [&](FitSheet& next) -> std::string {
        auto& phones = next.input.earphones;
        if (index >= phones.size())
            return noSuchEarphone;
        const bool saysNothing = phones[index].setAside == notReadYet || hasNoInsertionLeft(phones[index]);
        if (auto why = saysNothing ? whyNoReading() : std::string(); !why.empty())
            return why;
        auto others = phones;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(index));
        if (auto fault = faultOf(e, others); !fault.empty())
            return fault;
        correctWhole(phones[index], e);
        return {};
    });
}

void FitBench::removeEarphone(std::size_t index)
{
    const bool removed =
        change("removal of " + inQuotes(nameOf({FitKind::earphone, index})), [&](FitSheet& next) -> std::string {
            auto& phones = next.input.earphones;
            if (index >= phones.size())
                return noSuchEarphone;
            phones.erase(phones.begin() + static_cast<std::ptrdiff_t>(index));
            return {};
        });
    if (removed)
        followRemoval({FitKind::earphone, index});
}

void FitBench::keepEarphoneAside(std::size_t index, bool aside)
{
    change(aside ? "an earphone kept aside" : "an earphone takes part", [&](FitSheet& next) -> std::string {
        if (index >= next.input.earphones.size())
            return noSuchEarphone;
        next.input.earphones[index].keptAside = aside;
        return {};
    });
}

void FitBench::setEarphoneAside(std::size_t index, const std::string& reason)
{
    change(reason.empty() ? "an earphone counts again" : "an earphone set aside", [&](FitSheet& next) -> std::string {
        if (index >= next.input.earphones.size())
            return noSuchEarphone;
        if (auto fault = reasonFault(reason); !fault.empty())
            return fault;
        if (auto fault = markFault(reason); !fault.empty())
            return fault;
        auto& e = next.input.earphones[index];
        if (e.setAside == notReadYet)
            return fmt::format("{} was not read yet: capture it, or type its level", inQuotes(e.name));
        if (reason.empty() && hasNoInsertionLeft(e))
            return fmt::format("every insertion of {} is set aside: let one of them count again", inQuotes(e.name));
        e.setAside = reason;
        return {};
    });
}

} // namespace couplet
