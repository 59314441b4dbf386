// SPDX-License-Identifier: GPL-3.0-or-later
//
// The view of session and library; what is done for a screen is in LibraryDeskActions.cpp and LibraryDeskFiles.cpp.
#include "Plugin/LibraryDesk.h"

#include "Plugin/Processor.h"

#include <algorithm>
#include <utility>

namespace couplet {
namespace {

constexpr double agesEvery_s = 20.0; // they are shown in minutes

CouplerRow rowFor(std::shared_ptr<const Coupler> profile, const std::string& now)
{
    CouplerRow row;
    if (const Reference* reference = profile->current()) {
        row.reference = isStale(*reference, *profile, now) ? ReferenceState::stale : ReferenceState::fresh;
        row.referenceAge_s = ageOf_s(*reference, now);
    }
    row.profile = std::move(profile);
    return row;
}

} // namespace

LibraryDesk::LibraryDesk(Processor& p) : processor(p)
{
    shown.folder = keeper->folder().path().string();
    shown.newKinds = newKinds();
}

void LibraryDesk::tick(double now_s)
{
    std::vector<Ending> ended;
    {
        const std::lock_guard lock(inbox->mutex);
        ended = std::exchange(inbox->endings, {});
    }
    // The listing first, so that an ending finds what its work has made.
    const auto listingNow = keeper->revision();
    if (listingNow != seenListing)
        listing = keeper->latest();
    for (const auto& ending : ended) {
        --running;
        if (ending)
            ending();
    }
    const auto sessionNow = processor.sessionRevisionNow();
    // Whoever has changed the session may have changed the library with it: no question before that was looked at.
    if (sessionNow != lookedFor && running == 0) {
        lookedFor = sessionNow;
        onFiles([](const Folder&) { return Ending(); });
    }
    if (ended.empty() && listingNow == seenListing && sessionNow == seenSession && now_s < nextAges_s)
        return;
    if (listingNow != seenListing)
        readVersions();
    seenListing = listingNow;
    seenSession = sessionNow;
    nextAges_s = now_s + agesEvery_s;
    refresh();
}

void LibraryDesk::refresh()
{
    shown.busy = running > 0;
    shown.undo = last.words;
    if (listing != nullptr) {
        const auto session = processor.sessionNow();
        shown.read = true;
        shown.unreadable.clear();
        for (const auto& fault : listing->unreadable)
            shown.unreadable.push_back(fault.sentence);
        fillRows(session, *listing);
        if (running == 0)
            fillQuestions(session, *listing);
    }
    ++shown.revision;
}

void LibraryDesk::fillRows(const Session& session, const Folder::Listing& library)
{
    const auto now = timeNow();
    shown.rows.clear();
    std::vector<std::string> names; // of the session's
    const auto add = [&](const Coupler& coupler, std::size_t slot) {
        if (std::find(names.begin(), names.end(), coupler.name) != names.end())
            return;
        names.push_back(coupler.name);
        auto row = rowFor(std::make_shared<const Coupler>(coupler), now);
        row.slot = static_cast<int>(slot);
        row.byHand = slot == 0;
        shown.rows.push_back(std::move(row));
    };
    for (std::size_t slot = 1; slot < session.couplers.size(); ++slot)
        if (session.couplers[slot])
            add(*session.couplers[slot], slot);
    if (session.couplers[0])
        add(*session.couplers[0], 0);
    for (const Item& item : library.items) {
        const auto* coupler = std::get_if<Coupler>(&item);
        if (coupler == nullptr)
            continue;
        const auto known = std::find_if(names.begin(), names.end(), [&](const std::string& name) {
            return name == coupler->name || itemNamed(library.items, "coupler", name) == &item;
        });
        if (known == names.end())
            shown.rows.push_back(rowFor({listing, coupler}, now));
        auto& row =
            known == names.end() ? shown.rows.back() : shown.rows[static_cast<std::size_t>(known - names.begin())];
        row.inLibrary = true;
    }
}

void LibraryDesk::fillQuestions(const Session& session, const Folder::Listing& library)
{
    auto questions = questionsOf(session, library);
    const auto isLeft = [&](const ProfileQuestion& q) {
        return std::any_of(left.begin(), left.end(),
                           [&](const auto& l) { return l.session == q.session && l.library == q.library; });
    };
    for (auto& question : questions)
        question.left = isLeft(question);
    shown.questions = std::move(questions);
}

const CouplerRow* LibraryDesk::rowOf(const std::string& name) const
{
    const auto found = std::find_if(shown.rows.begin(), shown.rows.end(),
                                    [&](const CouplerRow& row) { return row.profile->name == name; });
    return found == shown.rows.end() ? nullptr : &*found;
}

void LibraryDesk::say(std::string sentence, bool isFault)
{
    shown.said = std::move(sentence);
    shown.refused = isFault;
    refresh();
}

void LibraryDesk::done(std::string sentence, Undo undo)
{
    last = std::move(undo);
    say(std::move(sentence));
}

void LibraryDesk::select(const std::string& name)
{
    shown.newest = name;
    ++shown.made;
}

void LibraryDesk::onFiles(std::function<Ending(const Folder&)> work)
{
    ++running;
    shown.busy = true;
    ++shown.revision;
    auto* keeps = &*keeper; // it carries the work out itself, and so outlives it
    keeper->post([keeps, to = inbox, work = std::move(work)](const Folder& folder) {
        auto ending = work(folder);
        keeps->readNow(); // so that whoever hears of the end sees what it made
        const std::lock_guard lock(to->mutex);
        to->endings.push_back(std::move(ending));
    });
}

} // namespace couplet
