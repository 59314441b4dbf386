// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of FitBench that knows where the next reading goes. What is being read belongs to the group it was begun for:
// it is given up sooner than written into another.
#include "Plugin/FitBench.h"

#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

template <class List> std::optional<std::size_t> placeOf(const List& list, const std::string& name)
{
    const auto found = std::find_if(list.begin(), list.end(), [&](const auto& each) { return each.name == name; });
    return found != list.end() ? std::optional(static_cast<std::size_t>(found - list.begin())) : std::nullopt;
}

} // namespace

std::string FitBench::newFittingName(const FitSheet& next) const
{
    for (std::size_t n = next.input.fittings.size() + 1;; ++n)
        if (auto name = fmt::format("fitting {}", n); !placeOf(next.input.fittings, name))
            return name;
}

std::string FitBench::nameOf(const FitTarget& t) const
{
    const auto& input = sheet().input;
    switch (t.kind) {
    case FitKind::through:
        return "through the coupler";
    case FitKind::fitting:
        return t.index < input.fittings.size() ? input.fittings[t.index].name : newFittingName(sheet());
    case FitKind::earphone:
        break;
    }
    return t.index < input.earphones.size() ? input.earphones[t.index].name : "";
}

std::string FitBench::couplerNow() const
{
    const auto& coupler = live.chosen().coupler;
    return coupler ? coupler->name : std::string();
}

bool FitBench::isOfAnother() const
{
    const auto now = couplerNow();
    return !now.empty() && !sheet().coupler.empty() && now != sheet().coupler;
}

std::string FitBench::whyNoReading() const
{
    if (!isOfAnother())
        return {};
    return fmt::format("these readings are of {}, and {} is chosen: choose the coupler that they are of, or clear all "
                       "readings to begin anew",
                       inQuotes(sheet().coupler), inQuotes(couplerNow()));
}

bool FitBench::isTarget(const FitTarget& t) const
{
    const auto& input = sheet().input;
    switch (t.kind) {
    case FitKind::fitting: // one more than there are is made by its first reading
        return t.index <= input.fittings.size() && t.index < mostFittings;
    case FitKind::through:
        return t.index == 0;
    case FitKind::earphone:
        break;
    }
    return t.index < input.earphones.size();
}

void FitBench::moveTo(const FitTarget& wanted)
{
    target = wanted;
    shown.lastKept_dB.reset();
    capture.giveUp("The next reading goes to another group, so this one was given up: take the tone away first.");
}

void FitBench::chooseTarget(const FitTarget& wanted)
{
    beginAction();
    if (!isTarget(wanted))
        return refuse("there is no such group to read; choose another");
    if (wanted != target)
        moveTo(wanted);
}

void FitBench::nextTarget()
{
    beginAction();
    const auto fittings = sheet().input.fittings.size(), phones = sheet().input.earphones.size();
    FitTarget next;
    if (target.kind == FitKind::fitting)
        next = target.index + 1 < fittings ? FitTarget{FitKind::fitting, target.index + 1}
                                           : FitTarget{FitKind::through, 0};
    else if (target.kind == FitKind::through)
        next = phones > 0 ? FitTarget{FitKind::earphone, 0} : FitTarget{};
    else
        next = target.index + 1 < phones ? FitTarget{FitKind::earphone, target.index + 1} : FitTarget{};
    moveTo(next);
}

// After one of its kind was taken out of the sheet.
void FitBench::followRemoval(const FitTarget& removed)
{
    if (target.kind != removed.kind || target.index < removed.index)
        return;
    if (target.index > removed.index) {
        --target.index; // the same group as before
        return;
    }
    endCapture("The capture was ended, for what it read was removed.");
    const auto& input = sheet().input;
    const auto left = removed.kind == FitKind::fitting ? input.fittings.size() : input.earphones.size();
    if (left == 0)
        return moveTo({});
    moveTo({removed.kind, std::min(removed.index, left - 1)});
}

// After the sheet was put back: by its name, or in its place where that was given another name.
void FitBench::findTargetAgain(const std::string& name, const FitInput& before)
{
    const auto& now = sheet().input;
    if (target.kind == FitKind::through)
        return;
    const bool fitting = target.kind == FitKind::fitting;
    if (const auto place = fitting ? placeOf(now.fittings, name) : placeOf(now.earphones, name)) {
        target.index = *place;
        return;
    }
    const bool asMany =
        fitting ? now.fittings.size() == before.fittings.size() : now.earphones.size() == before.earphones.size();
    if (isTarget(target) && (asMany || nameOf(target) == name))
        return;
    endCapture("The capture was ended, for what it read is not there any more.");
    moveTo(isTarget(target) ? target : FitTarget{});
}

} // namespace couplet
