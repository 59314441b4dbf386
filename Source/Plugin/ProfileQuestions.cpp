// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/ProfileQuestions.h"

#include "Library/HistoryFiles.h"
#include "Library/Names.h"

#include <algorithm>

namespace couplet {
namespace {

const Coupler* couplerNamed(const std::string& name, const Folder::Listing& library)
{
    return std::get_if<Coupler>(itemNamed(library.items, "coupler", name));
}

// Whether `longer` is `shorter` with more references, and nothing else.
bool wentOn(const Coupler& shorter, const Coupler& longer)
{
    if (countMissing(shorter.references, longer.references) > 0)
        return false;
    auto rest = longer;
    const ReferenceIndex known(shorter.references);
    const auto isKnown = [&](const Reference& r) {
        const auto* same = known.find(r);
        return same != nullptr && same->setAside == r.setAside;
    };
    std::erase_if(rest.references, [&](const Reference& r) { return !isKnown(r); });
    return isSameProfile(shorter, rest);
}

// A session that was too large keeps a long history's newest references alone: nothing is new in either.
bool isEndOf(const Coupler& session, const Coupler& library)
{
    const auto count = session.references.size();
    if (library.references.size() <= newestInSession || count >= library.references.size() || count == 0)
        return false;
    auto rest = library;
    rest.references.erase(rest.references.begin(), rest.references.end() - static_cast<std::ptrdiff_t>(count));
    return isSameProfile(session, rest);
}

ProfileState stateOf(const Coupler& session, const Coupler& library)
{
    if (wentOn(session, library))
        return ProfileState::libraryWentOn;
    return wentOn(library, session) ? ProfileState::sessionWentOn : ProfileState::differs;
}

} // namespace

std::size_t countMissing(const std::vector<Reference>& of, const std::vector<Reference>& in)
{
    const ReferenceIndex known(in);
    const auto isMissing = [&](const Reference& r) { return known.find(r) == nullptr; };
    return static_cast<std::size_t>(std::count_if(of.begin(), of.end(), isMissing));
}

bool isSameProfile(const Coupler& a, const Coupler& b)
{
    auto comparable = b;
    comparable.slot = a.slot;
    if (lookTheSame(a.name, b.name))
        comparable.name = a.name;
    return a == comparable;
}

std::vector<ProfileQuestion> questionsOf(const Session& session, const Folder::Listing& listing)
{
    std::vector<ProfileQuestion> questions;
    for (std::size_t slot = 0; slot < session.couplers.size(); ++slot) {
        const auto& ours = session.couplers[slot];
        if (!ours)
            continue;
        const auto asked = std::find_if(questions.begin(), questions.end(),
                                        [&](const auto& q) { return isSameProfile(q.session, *ours); });
        if (asked != questions.end()) {
            asked->slots.push_back(static_cast<int>(slot));
            continue;
        }
        ProfileQuestion question;
        question.session = *ours;
        question.slots = {static_cast<int>(slot)};
        if (const Coupler* theirs = couplerNamed(ours->name, listing)) {
            if (isSameProfile(*ours, *theirs) || isEndOf(*ours, *theirs))
                continue;
            question.state = stateOf(*ours, *theirs);
            question.library = *theirs;
            question.onlyInLibrary = countMissing(theirs->references, ours->references);
        }
        question.onlyInSession =
            countMissing(ours->references, question.library ? question.library->references : std::vector<Reference>{});
        questions.push_back(std::move(question));
    }
    return questions;
}

} // namespace couplet
