// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a screen asks of the session, and answers to questions between session and library.
#include "Plugin/LibraryDesk.h"

#include "Library/Utf8.h"
#include "Plugin/Processor.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace couplet {

void LibraryDesk::forgetSaid()
{
    shown.said.clear();
    shown.refused = false;
    ++shown.revision;
}

void LibraryDesk::undo()
{
    const auto undo = std::exchange(last, {});
    if (undo.action)
        undo.action();
    refresh();
}

void LibraryDesk::chooseCoupler(const std::string& name)
{
    const auto* row = rowOf(name);
    if (row == nullptr)
        return say(fmt::format("coupler {} is not there any more; choose another", inQuotes(name)), true);
    if (row->slot > 0)
        processor.chooseCouplerSlot(row->slot);
    else if (row->byHand)
        processor.chooseCouplerSlot(0);
    else
        processor.chooseCouplerByHand(*row->profile);
}

void LibraryDesk::chooseNoCoupler()
{
    processor.chooseCouplerByHand({});
}

// It stands in one slot. Who stood there before leaves the session, and is brought back by `undo`.
void LibraryDesk::putInSlot(const std::string& name, int slot)
{
    const auto* row = rowOf(name);
    if (row == nullptr || row->slot == slot)
        return;
    const auto before = processor.sessionNow();
    const int chosen = processor.parameters.whole(ParameterId::couplerSlot);
    const Coupler coupler = *row->profile;
    const int from = row->slot;
    const bool wasChosen = from > 0 ? chosen == from : row->byHand && chosen == 0;
    const auto& other = before.couplers[static_cast<std::size_t>(slot)];
    processor.putInSlot(slot, std::optional(coupler));
    if (from > 0)
        processor.putInSlot(from, std::optional<Coupler>());
    if (from == 0 && row->byHand)
        processor.chooseCouplerByHand({});
    processor.chooseCouplerSlot(wasChosen ? slot : chosen);
    auto sentence = fmt::format("{} is in slot {} of this session", inQuotes(name), slot);
    if (other)
        sentence += fmt::format("; {} left it", inQuotes(other->name));
    done(sentence, {fmt::format("slot {} as it was", slot), [this, before, slot, from, chosen] {
                        processor.putInSlot(slot, before.couplers[static_cast<std::size_t>(slot)]);
                        if (from > 0)
                            processor.putInSlot(from, before.couplers[static_cast<std::size_t>(from)]);
                        else if (before.couplers[0])
                            processor.chooseCouplerByHand(before.couplers[0]);
                        processor.chooseCouplerSlot(chosen);
                        say("the slots are as they were");
                    }});
}

// Slot 0 is what was chosen by hand; it stays chosen or not, as it was.
void LibraryDesk::putInSlots(const std::vector<int>& slots, const std::optional<Coupler>& coupler)
{
    const int chosen = processor.parameters.whole(ParameterId::couplerSlot);
    for (const int slot : slots)
        if (slot > 0)
            processor.putInSlot(slot, coupler);
        else
            processor.chooseCouplerByHand(coupler);
    if (processor.parameters.whole(ParameterId::couplerSlot) != chosen)
        processor.chooseCouplerSlot(chosen);
}

void LibraryDesk::replaceInSession(const Coupler& before, const Coupler& after)
{
    const auto session = processor.sessionNow();
    for (std::size_t slot = 0; slot < session.couplers.size(); ++slot)
        if (session.couplers[slot] && isSameProfile(*session.couplers[slot], before))
            putInSlots({static_cast<int>(slot)}, after);
}

// Those that chose the coupler's correction go on saying so.
void LibraryDesk::renameInEarphones(const std::string& from, const std::string& to)
{
    const auto session = processor.sessionNow();
    const int chosen = processor.parameters.whole(ParameterId::earphoneSlot);
    for (std::size_t slot = 0; slot < session.earphones.size(); ++slot) {
        auto earphone = session.earphones[slot];
        if (!earphone)
            continue;
        auto& names = earphone->choseCorrectionOf;
        if (std::find(names.begin(), names.end(), from) == names.end())
            continue;
        std::replace(names.begin(), names.end(), from, to);
        if (slot > 0)
            processor.putInSlot(static_cast<int>(slot), earphone);
        else
            processor.chooseEarphoneByHand(earphone);
    }
    if (processor.parameters.whole(ParameterId::earphoneSlot) != chosen)
        processor.chooseEarphoneSlot(chosen);
}

// Its readings stay its own, unless the session goes on with a copy that differs, under the name before.
void LibraryDesk::renameInFit(const std::string& from, const std::string& to)
{
    const auto session = processor.sessionNow();
    const bool stays = std::any_of(session.couplers.begin(), session.couplers.end(),
                                   [&](const auto& coupler) { return coupler && coupler->name == from; });
    if (!stays)
        processor.renameFitCoupler(from, to);
}

void LibraryDesk::answer(const ProfileQuestion& question, ProfileAnswer answer)
{
    const auto name = inQuotes(question.session.name);
    if (answer == ProfileAnswer::keepSessions)
        return keepSessions(question);
    if (answer == ProfileAnswer::leaveBoth || !question.library) {
        left.push_back(question);
        return say(fmt::format("this session goes on with its own {}", name));
    }
    putInSlots(question.slots, question.library);
    done(fmt::format("this session has the library's {} now", name),
         {fmt::format("the session's own {}", name), [this, question, name] {
              putInSlots(question.slots, question.session);
              left.push_back(question); // it was just answered: not to be asked again
              say(fmt::format("this session has its own {} again", name));
          }});
}

// The library's place in the row of slots stays; one that it has not yet is taken only where it is free.
void LibraryDesk::keepSessions(const ProfileQuestion& question)
{
    onFiles([this, question](const Folder& folder) -> Ending {
        const auto& name = question.session.name;
        Coupler wanted = question.session;
        wanted.slot = question.library ? question.library->slot : wanted.slot;
        const auto there = folder.list();
        for (const Item& item : there.items)
            if (const auto* other = std::get_if<Coupler>(&item))
                if (other->slot == wanted.slot && other->name != name)
                    wanted.slot = 0;
        const auto saved = folder.save(wanted);
        const auto kept = saved ? folder.coupler(name) : Outcome<Coupler>(saved.fault());
        if (!kept)
            return [this, fault = kept.fault()] { refuse(fault); };
        return [this, question, kept = *kept] {
            putInSlots(question.slots, kept);
            const auto title = inQuotes(kept.name);
            if (question.library)
                return say(fmt::format("the library has this session's {} now, with {} references in all", title,
                                       kept.references.size()));
            say(fmt::format("the library has {} now", title));
        };
    });
}

} // namespace couplet
