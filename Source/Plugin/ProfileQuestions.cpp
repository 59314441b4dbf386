// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/ProfileQuestions.h"

#include "Library/Names.h"

#include <algorithm>

namespace couplet {
namespace {

bool isSameReference(const Reference& a, const Reference& b)
{
    auto comparable = b;
    comparable.setAside = a.setAside;
    return a == comparable;
}

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
    const auto isKnown = [&](const Reference& r) {
        return std::find(shorter.references.begin(), shorter.references.end(), r) != shorter.references.end();
    };
    std::erase_if(rest.references, [&](const Reference& r) { return !isKnown(r); });
    return isSameProfile(shorter, rest);
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
    const auto isMissing = [&](const Reference& r) {
        return std::none_of(in.begin(), in.end(), [&](const Reference& other) { return isSameReference(r, other); });
    };
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
            if (isSameProfile(*ours, *theirs))
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
