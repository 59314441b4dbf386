// SPDX-License-Identifier: GPL-3.0-or-later
//
// What FitTableCard asks of an earphone: all of it at once, for its level says nothing without what was expected of it
// with the same drive.
#include "Quantities/QuantityText.h"
#include "Screens/FitSubject.h"
#include "Screens/FitTableCard.h"
#include "Screens/FitTyped.h"

#include <fmt/format.h>

namespace couplet {
namespace {

using Typed = std::vector<std::string>;

constexpr double coverage = 2.0; // of U

// As the form's fields hold them.
struct PrintedEarphone
{
    std::string name;
    PrintedNumber level_dB, expected_dB, tolerance_dB, U_dB;
};

std::vector<FitQuestion::Field> fieldsOf(const PrintedEarphone& e)
{
    return {{"name", e.name, "earphone T"},
            {"reads, dB", e.level_dB.text, "96.18"},
            {"expected, dB", e.expected_dB.text, "94.60"},
            {"rated \u00b1 dB", e.tolerance_dB.text, "1.0"},
            {"U of the rest, dB", e.U_dB.text, "0.24"}};
}

Outcome<FitEarphone> typedEarphone(const Typed& typed, const PrintedEarphone& before)
{
    constexpr double most_dB = 20.0;
    FitEarphone e;
    e.name = typed[0] == before.name ? before.name : std::string(trimmed(typed[0]));
    if (e.name.empty())
        return Fault{"An earphone needs a name."};
    const auto level = typedLevel(typed[1], before.level_dB), expected = typedLevel(typed[2], before.expected_dB);
    if (!level)
        return level.fault();
    if (!expected)
        return expected.fault();
    const auto tolerance = typedSpread(typed[3], before.tolerance_dB, "Rated tolerance", most_dB);
    if (!tolerance)
        return tolerance.fault();
    const auto U = typedSpread(typed[4], before.U_dB, "U of the rest", most_dB);
    if (!U)
        return U.fault();
    e.level_dB = *level;
    e.expected_dB = *expected;
    e.tolerance_dB = *tolerance;
    if (*U)
        e.u_dB = **U / coverage;
    return e;
}

std::string titleOf(const FitEarphone& e, const std::string& name, const std::string& drive)
{
    return e.setAside == notReadYet ? "Level at " + drive + " of " + name : "Correct " + name;
}

std::string noteOf(const FitEarphone& e)
{
    const auto insertions = e.insertions.size();
    if (insertions == 0)
        return {};
    return fmt::format("{} replaces its {}.", hasNoInsertionLeft(e) ? "Its level" : "Another level or expected level",
                       insertions == 1 ? std::string("insertion") : fmt::format("{} insertions", insertions));
}

} // namespace

void FitTableCard::askNewEarphone()
{
    form.ask({.title = "An earphone of known level",
              .fields = fieldsOf({}),
              .take = [this, asked = subjectOf(view)](const Typed& typed) {
                  if (!(subjectOf(view) == asked))
                      return std::string(subjectChanged);
                  const auto earphone = typedEarphone(typed, {});
                  return earphone ? controls.addFitEarphone(*earphone) : earphone.fault().sentence;
              }});
}

// One that was not read yet, or without an insertion that counts, has no level; what is expected of it is for the drive that its level was read with.
void FitTableCard::askEarphone(const FitTarget& target)
{
    const auto* earphone = earphoneOf(view, target);
    if (earphone == nullptr)
        return;
    const bool unread = earphone->setAside == notReadYet;
    const bool saysNothing = unread || hasNoInsertionLeft(*earphone);
    const auto promise = unread && target.index < view.promises.size() ? view.promises[target.index] : std::nullopt;
    PrintedEarphone before;
    before.name = earphone->name;
    before.expected_dB = PrintedNumber(promise ? promise->expected_dB : earphone->expected_dB);
    before.tolerance_dB = PrintedNumber(earphone->tolerance_dB);
    if (!saysNothing)
        before.level_dB = PrintedNumber(earphone->level_dB);
    if (earphone->u_dB)
        before.U_dB = PrintedNumber(coverage * *earphone->u_dB);
    form.ask({.title = titleOf(*earphone, nameOf(view, target), promise ? promise->drive : "1 V"),
              .fields = fieldsOf(before),
              .note = noteOf(*earphone),
              .take =
                  [this, target, before, asked = *earphone, of = subjectOf(view)](const Typed& typed) {
                      const auto* now = earphoneOf(view, target);
                      if (now == nullptr || !(*now == asked) || !(subjectOf(view) == of))
                          return std::string("This earphone was changed or read meanwhile: leave, and correct it as it "
                                             "is now.");
                      const auto next = typedEarphone(typed, before);
                      if (!next)
                          return next.fault().sentence;
                      auto refusal = controls.changeFitEarphone(target.index, *next);
                      if (refusal.empty())
                          table.renamed(target, next->name);
                      return refusal;
                  },
              .first = 1});
}

void FitTableCard::addEarphoneActions(FitMenu& menu, const FitRow& at)
{
    const auto* earphone = earphoneOf(view, at.target);
    if (earphone == nullptr)
        return;
    const auto target = at.target;
    const auto index = target.index;
    const bool kept = earphone->keptAside, unread = earphone->setAside == notReadYet;
    menu.add(unread ? "type its level" : "correct it", [this, target] { askEarphone(target); });
    menu.add(kept ? "let it take part" : "keep it aside, to prove with",
             [this, index, kept] { controls.keepFitEarphoneAside(index, !kept); });
    if (!unread && !hasNoInsertionLeft(*earphone))
        menu.add(earphone->setAside.empty() ? "set it aside, with a reason" : "let it count again",
                 [this] { askReason(); });
    menu.add("remove it", [this, index] { controls.removeFitEarphone(index); });
}

} // namespace couplet
