// SPDX-License-Identifier: GPL-3.0-or-later
//
// What FitTableCard asks for, and its lists of things to do.
#include "Quantities/QuantityText.h"
#include "Screens/FitTableCard.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

using What = FitRow::What;
using Typed = std::vector<std::string>;

constexpr double largestU_dB = 3.0; // that may be typed

std::string trimmedText(const std::string& text)
{
    return std::string(trimmed(text));
}

// Empty: absent. A refusal where it is neither empty nor a number from 0 on.
std::string spreadOf(const std::string& typed, const char* what, std::optional<double>& spread_dB, double most_dB)
{
    spread_dB.reset();
    if (trimmed(typed).empty())
        return {};
    const auto value = typedDecibels(typed.starts_with("\u00b1") ? typed.substr(2) : typed);
    if (!value || *value < 0.0 || *value > most_dB)
        return fmt::format("{}: write 0 to {:g} dB, such as 0.15.", what, most_dB);
    spread_dB = *value;
    return {};
}

std::string plainText(double level_dB)
{
    return levelText(level_dB, Minus::hyphen);
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
    form.ask({.title = "Reading of " + (nameOf(view, target).empty() ? "a new fitting" : nameOf(view, target)) + ", dB",
              .fields = {{"level, dB", "", "115.29"}},
              .take =
                  [this, target](const Typed& typed) {
                      const auto level = typedDecibels(typed[0]);
                      if (!level)
                          return level.fault().sentence;
                      controls.addFitReading(target, *level);
                      return std::string();
                  },
              .again = true});
}

void FitTableCard::askCorrection()
{
    const auto* chosen = table.selectedRow();
    if (chosen == nullptr || chosen->what != What::reading)
        return;
    const FitRow at = *chosen;
    const auto* earphone = earphoneOf(view, at.target);
    const auto* group = groupOf(view, at.target);
    const auto* insertion = insertionOf(view, at);
    const double now_dB = insertion != nullptr  ? insertion->level_dB
                          : earphone != nullptr ? earphone->level_dB
                                                : group->readings[at.reading].level_dB;
    form.ask({.title = "Correct " + titleOf(view, at) + ", dB",
              .fields = {{"level, dB", plainText(now_dB), "115.29"}},
              .take = [this, at](const Typed& typed) {
                  const auto level = typedDecibels(typed[0]);
                  if (!level)
                      return level.fault().sentence;
                  controls.changeFitReading(at.target, at.reading, *level);
                  return std::string();
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
        if (whole)
            controls.setFitEarphoneAside(at.target.index, reason);
        else
            controls.setFitReadingAside(at.target, at.reading, reason);
    };
    if (isAside(view, at))
        return put("");
    form.ask({.title = "Set " + titleOf(view, at) + " aside: why?",
              .fields = {{"reason", "", "the adapter slipped"}},
              .take = [put](const Typed& typed) {
                  const auto reason = trimmedText(typed[0]);
                  if (reason.empty())
                      return std::string("A reading is set aside with a reason, in a few words.");
                  put(reason);
                  return std::string();
              }});
}

void FitTableCard::askNewFitting()
{
    form.ask({.title = "A new fitting: its name",
              .fields = {{"name", "", fmt::format("fitting {}", view.input.fittings.size() + 1)}},
              .take = [this](const Typed& typed) {
                  controls.addFitting(trimmedText(typed[0]));
                  return std::string();
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
              .take = [this, target](const Typed& typed) {
                  const auto name = trimmedText(typed[0]);
                  if (name.empty())
                      return std::string("A fitting needs a name.");
                  for (std::size_t i = 0; i < view.input.fittings.size(); ++i)
                      if (i != target.index && view.input.fittings[i].name == name)
                          return std::string("Another fitting has this name already; choose another one.");
                  table.renamed(target, name);
                  controls.renameFitting(target.index, name);
                  return std::string();
              }});
}

void FitTableCard::askEarphone()
{
    form.ask({.title = "An earphone of known level",
              .fields = {{"name", "", "earphone T"},
                         {"reads, dB", "", "96.18"},
                         {"expected, dB", "", "94.60"},
                         {"rated \u00b1 dB", "", "1.0"},
                         {"U of the rest, dB", "", "0.24"}},
              .take = [this](const Typed& typed) {
                  FitEarphone earphone;
                  earphone.name = trimmedText(typed[0]);
                  if (earphone.name.empty())
                      return std::string("An earphone needs a name.");
                  const auto level = typedDecibels(typed[1]), expected = typedDecibels(typed[2]);
                  if (!level)
                      return level.fault().sentence;
                  if (!expected)
                      return expected.fault().sentence;
                  earphone.level_dB = *level;
                  earphone.expected_dB = *expected;
                  constexpr double most_dB = 20.0, coverage = 2.0;
                  auto refusal = spreadOf(typed[3], "Rated tolerance", earphone.tolerance_dB, most_dB);
                  if (refusal.empty())
                      refusal = spreadOf(typed[4], "U of the rest", earphone.u_dB, most_dB);
                  if (!refusal.empty())
                      return refusal;
                  if (earphone.u_dB)
                      earphone.u_dB = *earphone.u_dB / coverage;
                  controls.addFitEarphone(earphone);
                  return std::string();
              }});
}

void FitTableCard::askUncertainties()
{
    const auto& settings = view.input.settings;
    form.ask({.title = "What all fittings share, standard uncertainties",
              .fields = {{"from one coupler to another, u dB", plainText(settings.u_transfer_dB), "0.15"},
                         {"adapter, u dB", plainText(settings.u_adapter_dB), "0.10"}},
              .take = [this](const Typed& typed) {
                  std::optional<double> transfer, adapter;
                  auto refusal = spreadOf(typed[0], "From one coupler to another", transfer, largestU_dB);
                  if (refusal.empty())
                      refusal = spreadOf(typed[1], "Adapter", adapter, largestU_dB);
                  if (refusal.empty() && !(transfer && adapter))
                      refusal = "Both are needed; 0 where there is none.";
                  if (refusal.empty())
                      controls.setFitUncertainties(*transfer, *adapter);
                  return refusal;
              }});
}

FitMenu FitTableCard::addMenu()
{
    FitMenu menu;
    menu.add("a fitting", [this] { askNewFitting(); });
    menu.add("an earphone, typed", [this] { askEarphone(); });
    FitMenu library;
    for (const auto& name : view.earphones)
        library.add(name, [this, name] { controls.addFitEarphone(name); });
    if (!view.earphones.empty())
        menu.addUnder("an earphone of the library", library);
    if (view.canFillFromSimulation)
        menu.add("what was written down on the simulated bench", [this] { controls.fillFitFromSimulation(); });
    return menu;
}

void FitTableCard::addEarphoneActions(FitMenu& menu, const FitRow& at)
{
    const auto* earphone = earphoneOf(view, at.target);
    if (earphone == nullptr)
        return;
    const auto index = at.target.index;
    const bool kept = earphone->keptAside;
    menu.add(kept ? "let it take part" : "keep it aside, to prove with",
             [this, index, kept] { controls.keepFitEarphoneAside(index, !kept); });
    menu.add(isAside(view, at) ? "let it count again" : "set it aside, with a reason", [this] { askReason(); });
    menu.add("remove it", [this, index] { controls.removeFitEarphone(index); });
}

void FitTableCard::addRowActions(FitMenu& menu, const FitRow& at)
{
    menu.addSection(titleOf(view, at));
    if (at.what == What::reading) {
        menu.add("correct its level", [this] { askCorrection(); });
        if (at.target.kind != FitKind::earphone || insertionOf(view, at) != nullptr)
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
    menu.add("paste from a spreadsheet, in place of what is here", [this] { onPaste(); });
    menu.add("clear all readings", [this] { controls.clearFit(); });
    return menu;
}

} // namespace couplet
