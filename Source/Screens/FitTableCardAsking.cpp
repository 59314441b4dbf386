// SPDX-License-Identifier: GPL-3.0-or-later
//
// What FitTableCard asks for, and its lists of things to do.
#include "Library/Names.h"
#include "Quantities/QuantityText.h"
#include "Screens/FitSubject.h"
#include "Screens/FitTableCard.h"
#include "Screens/FitTyped.h"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

namespace couplet {
namespace {

using What = FitRow::What;
using Typed = std::vector<std::string>;

constexpr double largestU_dB = 3.0; // that may be typed

std::string trimmedText(const std::string& text)
{
    return std::string(trimmed(text));
}

std::string titleOf(const FitView& view, const FitRow& row)
{
    const auto name = nameOf(view, row.target);
    const auto* earphone = earphoneOf(view, row.target);
    if (row.what != What::reading || (earphone != nullptr && earphone->insertions.empty()))
        return name;
    return fmt::format("{} {} of {}", earphone != nullptr ? "insertion" : "reading", row.reading + 1, name);
}

// Null where the row is no insertion.
const FitInsertion* insertionOf(const FitView& view, const FitRow& row)
{
    const auto* earphone = row.what == What::reading ? earphoneOf(view, row.target) : nullptr;
    return earphone != nullptr && row.reading < earphone->insertions.size() ? &earphone->insertions[row.reading]
                                                                            : nullptr;
}

bool isAside(const FitView& view, const FitRow& row)
{
    if (const auto* insertion = insertionOf(view, row))
        return !insertion->setAside.empty();
    if (const auto* earphone = earphoneOf(view, row.target))
        return !earphone->setAside.empty();
    const auto* group = groupOf(view, row.target);
    return group != nullptr && row.reading < group->readings.size() && !group->readings[row.reading].setAside.empty();
}

} // namespace

void FitTableCard::askReading()
{
    const FitTarget target = view.target;
    if (const auto* earphone = earphoneOf(view, target); earphone != nullptr && earphone->insertions.empty())
        return askEarphone(target);
    struct Asked
    {
        FitSubject of;
        bool isMade; // else the first that is taken makes it, and gives it a name
    };
    const auto of = subjectOf(view, target);
    const auto asked = std::make_shared<Asked>(Asked{of, !of.name.empty()});
    form.ask({.title = "Reading of " + (nameOf(view, target).empty() ? "a new fitting" : nameOf(view, target)) + ", dB",
              .fields = {{"level, dB", "", "115.29"}},
              .take =
                  [this, target, asked](const Typed& typed) {
                      const auto now = subjectOf(view, target);
                      if (asked->isMade && asked->of.name.empty())
                          asked->of.name = now.name;
                      if (!(now == asked->of))
                          return std::string(subjectChanged);
                      const auto level = typedDecibels(typed[0]);
                      if (!level)
                          return level.fault().sentence;
                      auto refusal = controls.addFitReading(target, *level);
                      asked->isMade = asked->isMade || refusal.empty();
                      return refusal;
                  },
              .again = true});
}

void FitTableCard::askCorrection()
{
    const auto* chosen = table.selectedRow();
    if (chosen == nullptr || chosen->what != What::reading)
        return;
    const FitRow at = *chosen;
    const auto* insertion = insertionOf(view, at);
    if (at.target.kind == FitKind::earphone && insertion == nullptr)
        return askEarphone(at.target);
    const PrintedNumber now_dB(insertion != nullptr ? insertion->level_dB
                                                    : groupOf(view, at.target)->readings[at.reading].level_dB);
    form.ask({.title = "Correct " + titleOf(view, at) + ", dB",
              .fields = {{"level, dB", now_dB.text, "115.29"}},
              .take = [this, at, now_dB, asked = subjectOf(view, at.target, at.reading)](const Typed& typed) {
                  if (!(subjectOf(view, at.target, at.reading) == asked))
                      return std::string(subjectChanged);
                  if (now_dB.isLeft(typed[0]))
                      return std::string();
                  const auto level = typedDecibels(typed[0]);
                  return level ? controls.changeFitReading(at.target, at.reading, *level) : level.fault().sentence;
              }});
}

void FitTableCard::askReason()
{
    const auto* chosen = table.selectedRow();
    if (chosen == nullptr || (chosen->what != What::reading && chosen->what != What::earphone))
        return;
    const FitRow at = *chosen;
    const bool whole = at.target.kind == FitKind::earphone && insertionOf(view, at) == nullptr;
    const auto put = [this, at, whole](const std::string& reason) {
        return whole ? controls.setFitEarphoneAside(at.target.index, reason)
                     : controls.setFitReadingAside(at.target, at.reading, reason);
    };
    if (isAside(view, at)) {
        put("");
        return;
    }
    const auto of = [this, at] {
        return at.what == What::reading ? subjectOf(view, at.target, at.reading) : subjectOf(view, at.target);
    };
    form.ask({.title = "Set " + titleOf(view, at) + " aside: why?",
              .fields = {{"reason", "", "the adapter slipped"}},
              .take = [put, of, asked = of()](const Typed& typed) {
                  if (!(of() == asked))
                      return std::string(subjectChanged);
                  const auto reason = trimmedText(typed[0]);
                  if (reason.empty())
                      return std::string("A reading is set aside with a reason, in a few words.");
                  return put(reason);
              }});
}

void FitTableCard::askNewFitting()
{
    form.ask({.title = "A new fitting: its name",
              .fields = {{"name", "", fmt::format("fitting {}", view.input.fittings.size() + 1)}},
              .take = [this, asked = subjectOf(view)](const Typed& typed) {
                  if (!(subjectOf(view) == asked))
                      return std::string(subjectChanged);
                  return controls.addFitting(trimmedText(typed[0]));
              }});
}

void FitTableCard::askRename()
{
    const auto* chosen = table.selectedRow();
    if (chosen == nullptr || chosen->target.kind != FitKind::fitting)
        return;
    const FitTarget target = chosen->target;
    const auto* group = groupOf(view, target);
    form.ask({.title = "Rename " + nameOf(view, target),
              .fields = {{"name", group->name, ""}},
              .take = [this, target, asked = subjectOf(view, target)](const Typed& typed) {
                  if (!(subjectOf(view, target) == asked))
                      return std::string(subjectChanged);
                  const auto name = keptName(trimmedText(typed[0]));
                  if (name.empty())
                      return std::string("A fitting needs a name.");
                  for (std::size_t i = 0; i < view.input.fittings.size(); ++i)
                      if (i != target.index && lookTheSame(view.input.fittings[i].name, name))
                          return std::string("Another fitting has this name already; choose another one.");
                  auto refusal = controls.renameFitting(target.index, name);
                  if (refusal.empty())
                      table.renamed(target, name);
                  return refusal;
              }});
}

void FitTableCard::askUncertainties()
{
    const auto& settings = view.input.settings;
    const PrintedNumber transfer_dB(settings.u_transfer_dB), adapter_dB(settings.u_adapter_dB);
    form.ask({.title = "What all fittings share, standard uncertainties",
              .fields = {{"from one coupler to another, u dB", transfer_dB.text, "0.15"},
                         {"adapter, u dB", adapter_dB.text, "0.10"}},
              .take = [this, transfer_dB, adapter_dB, asked = subjectOf(view)](const Typed& typed) {
                  if (!(subjectOf(view) == asked))
                      return std::string(subjectChanged);
                  const auto transfer = typedSpread(typed[0], transfer_dB, "From one coupler to another", largestU_dB);
                  if (!transfer)
                      return transfer.fault().sentence;
                  const auto adapter = typedSpread(typed[1], adapter_dB, "Adapter", largestU_dB);
                  if (!adapter)
                      return adapter.fault().sentence;
                  if (!*transfer || !*adapter)
                      return std::string("Both are needed; 0 where there is none.");
                  return controls.setFitUncertainties(**transfer, **adapter);
              }});
}

FitMenu FitTableCard::addMenu()
{
    FitMenu menu;
    menu.add("a fitting", [this] { askNewFitting(); });
    menu.add("an earphone, typed", [this] { askNewEarphone(); });
    FitMenu library;
    for (const auto& name : view.earphones)
        library.add(name, [this, name] { controls.addFitEarphone(name); });
    if (!view.earphones.empty())
        menu.addUnder("an earphone of the library", library);
    if (view.canFillFromSimulation)
        menu.add("what was written down on the simulated bench", [this] { controls.fillFitFromSimulation(); });
    return menu;
}

void FitTableCard::addRowActions(FitMenu& menu, const FitRow& at)
{
    menu.addSection(titleOf(view, at));
    if (at.what == What::reading) {
        const bool whole = at.target.kind == FitKind::earphone && insertionOf(view, at) == nullptr;
        menu.add(whole ? "correct it" : "correct its level", [this] { askCorrection(); });
        if (!whole)
            menu.add(isAside(view, at) ? "let it count again" : "set it aside, with a reason", [this] { askReason(); });
        return;
    }
    const FitTarget target = at.target;
    menu.add("show or hide its readings", [this, target] { table.toggle(target); });
    if (at.what == What::earphone)
        return addEarphoneActions(menu, at);
    if (at.what != What::fitting)
        return;
    menu.add("rename it", [this] { askRename(); });
    menu.add("remove it with its readings", [this, target] { controls.removeFitting(target.index); });
}

FitMenu FitTableCard::rowMenu()
{
    FitMenu menu;
    if (const auto* chosen = table.selectedRow())
        addRowActions(menu, *chosen);
    menu.addSection("everything");
    menu.add("paste a table in place of what is here, or a column of readings", [this] { onPaste(); });
    menu.add("clear all readings", [this] { controls.clearFit(); });
    return menu;
}

} // namespace couplet
