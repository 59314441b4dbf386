// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitRows.h"

#include "Library/Utf8.h"

#include <algorithm>

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
    const auto* earphone = earphoneOf(view, target);
    const std::size_t insertions = earphone != nullptr ? earphone->insertions.size() : 0;
    if (insertions > 0)
        rows.push_back({What::rating, target, 0});
    const std::size_t readings = group != nullptr ? group->readings.size() : std::max<std::size_t>(1, insertions);
    for (std::size_t i = 0; i < readings; ++i)
        rows.push_back({What::reading, target, i});
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

} // namespace couplet
