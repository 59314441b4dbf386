// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitUse.h"

#include "Bench/FitKeeping.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

bool holds(const std::vector<std::string>& names, const std::string& name)
{
    return std::find(names.begin(), names.end(), name) != names.end();
}

void look(CorrectionInForce& found, const Coupler& coupler, const std::string& name)
{
    if (coupler.name == name && !found.correction)
        found.correction = coupler.correction;
}

void look(CorrectionInForce& found, const Earphone& earphone, const std::string& coupler)
{
    if (holds(earphone.choseCorrectionOf, coupler) && !holds(found.earphones, earphone.name))
        found.earphones.push_back(earphone.name);
}

// True when it had to be changed.
bool mark(Earphone& earphone, const std::string& coupler, const std::vector<std::string>& chose)
{
    const bool wanted = holds(chose, earphone.name);
    if (wanted == holds(earphone.choseCorrectionOf, coupler))
        return false;
    if (wanted)
        earphone.choseCorrectionOf.push_back(coupler);
    else
        std::erase(earphone.choseCorrectionOf, coupler);
    return true;
}

std::vector<std::string> choosing(const CorrectionFit& fit)
{
    std::vector<std::string> names;
    for (const auto& e : fit.earphones)
        if (e.takesPart)
            names.push_back(e.name);
    return names;
}

// What the session is to have: as the library has it after the same request.
CorrectionInForce wanted(const FitUse& use)
{
    return {use.correction, use.fit != nullptr ? choosing(*use.fit) : std::vector<std::string>{}};
}

Outcome<std::vector<std::string>> carriedOut(const Folder& folder, const FitUse& use, const Coupler& coupler)
{
    if (use.fit != nullptr)
        return keepCorrection(folder, coupler, *use.correction, *use.fit);
    const auto done = putInForce(folder, use.coupler, use.libraryBefore ? *use.libraryBefore : CorrectionInForce{});
    if (!done)
        return done.fault();
    return std::vector<std::string>{};
}

} // namespace

CorrectionInForce inForce(const Session& session, const std::string& name)
{
    CorrectionInForce found;
    for (const auto& coupler : session.couplers)
        if (coupler)
            look(found, *coupler, name);
    for (const auto& earphone : session.earphones)
        if (earphone)
            look(found, *earphone, name);
    return found;
}

CorrectionInForce inForce(const Folder::Listing& library, const std::string& name)
{
    CorrectionInForce found;
    for (const Item& item : library.items) {
        if (const auto* coupler = std::get_if<Coupler>(&item))
            look(found, *coupler, name);
        if (const auto* earphone = std::get_if<Earphone>(&item))
            look(found, *earphone, name);
    }
    return found;
}

void putInForce(Session& session, const std::string& name, const CorrectionInForce& wish)
{
    for (auto& coupler : session.couplers)
        if (coupler && coupler->name == name)
            coupler->correction = wish.correction;
    for (auto& earphone : session.earphones)
        if (earphone)
            mark(*earphone, name, wish.earphones);
}

// Marks that are added first, marks that go last: should a file fail, an earphone too many is called no proof, never one
// too few.
Outcome<Done> putInForce(const Folder& folder, const std::string& name, const CorrectionInForce& wish)
{
    std::vector<Earphone> toFree;
    for (const Item& item : folder.list().items) {
        const auto* found = std::get_if<Earphone>(&item);
        if (found == nullptr)
            continue;
        Earphone earphone = *found;
        if (!mark(earphone, name, wish.earphones))
            continue;
        if (!holds(wish.earphones, earphone.name))
            toFree.push_back(earphone);
        else if (const auto done = folder.save(earphone); !done)
            return done.fault();
    }
    auto coupler = folder.coupler(name);
    if (!coupler)
        return coupler.fault();
    coupler->correction = wish.correction;
    if (const auto done = folder.save(*coupler); !done)
        return done.fault();
    for (const auto& earphone : toFree)
        if (const auto done = folder.save(earphone); !done)
            return done.fault();
    return Done{};
}

FitUsed usedInLibrary(const Folder& folder, const FitUse& use, const std::optional<Coupler>& inSession)
{
    FitUsed used;
    used.asked = use;
    auto coupler = folder.coupler(use.coupler);
    if (!coupler && folder.holdsCoupler(use.coupler)) {
        used.fault = coupler.fault();
        return used;
    }
    if (!coupler && !inSession) {
        used.fault = Fault{fmt::format("the coupler {} is gone from the session and from the library: nothing was kept",
                                       inQuotes(use.coupler))};
        return used;
    }
    if (!coupler) { // it is kept there from now on
        if (const auto done = folder.save(*inSession); !done) {
            used.fault = done.fault();
            return used;
        }
        coupler = *inSession;
    }
    if (use.libraryBefore && coupler->correction != use.usedSince) {
        used.fault = Fault{fmt::format("{} has another correction by now, which stays", inQuotes(use.coupler))};
        used.overtaken = true;
        return used;
    }
    used.libraryBefore = inForce(folder.list(), use.coupler);
    auto notes = carriedOut(folder, use, *coupler);
    if (notes)
        used.notes = *std::move(notes);
    else
        used.fault = notes.fault();
    return used;
}

void useInSession(Session& session, FitUsed& used)
{
    const auto& asked = used.asked;
    used.sessionBefore = inForce(session, asked.coupler);
    if (!asked.sessionBefore)
        return putInForce(session, asked.coupler, wanted(asked));
    bool another = false;
    for (auto& coupler : session.couplers) {
        if (!coupler || coupler->name != asked.coupler)
            continue;
        if (coupler->correction == asked.usedSince)
            coupler->correction = asked.sessionBefore->correction;
        else
            another = true;
    }
    if (another) {
        used.notes.push_back(
            fmt::format("{} of this session has another correction by now, which stays", inQuotes(asked.coupler)));
        return;
    }
    for (auto& earphone : session.earphones)
        if (earphone)
            mark(*earphone, asked.coupler, asked.sessionBefore->earphones);
}

} // namespace couplet
