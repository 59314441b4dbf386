// SPDX-License-Identifier: GPL-3.0-or-later
//
// Sessions of couplers with long histories, and what is asked of them beside the library.
#include "Bench/Session.h"
#include "Library/LongHistory.h"
#include "Plugin/ProfileQuestions.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>

using namespace couplet;
using namespace couplet::tests;

namespace {

// What reading gives again, from a text that can be read.
Session readAgain(const Session& session)
{
    SavedSession saved{session, {}};
    for (std::size_t i = 0; i < parameterCount; ++i)
        saved.parameters[i] = parameterLines()[i].initial;
    const auto text = textOf(saved);
    CHECK(text.size() <= 4u << 20); // the promise of Session.h
    const auto again = savedSessionFrom(text);
    INFO((again ? "" : again.fault().sentence));
    REQUIRE(again);
    CHECK(again->parameters == saved.parameters);
    CHECK(textOf(*again) == text);
    return again->session;
}

Coupler newestOf(Coupler coupler, std::size_t count)
{
    auto& all = coupler.references;
    all.erase(all.begin(), all.end() - static_cast<std::ptrdiff_t>(count));
    return coupler;
}

Coupler inSlot(Coupler coupler, int slot)
{
    coupler.slot = slot;
    return coupler;
}

std::vector<ProfileQuestion> asked(const Coupler& ours, const Coupler& theirs)
{
    Session session;
    session.couplers[1] = ours;
    return questionsOf(session, {{theirs}, {}, {}});
}

} // namespace

TEST_CASE("a session too large to be read again keeps the newest references of each coupler")
{
    Session session;
    session.couplers[1] = inSlot(longCoupler("first", 3000), 1);
    session.couplers[2] = inSlot(longCoupler("second", 2500), 2);
    session.couplers[3] = inSlot(longCoupler("short", 3), 3);
    const auto again = readAgain(session);
    for (const std::size_t slot : {1u, 2u}) {
        REQUIRE(again.couplers[slot]);
        CHECK(*again.couplers[slot] == newestOf(*session.couplers[slot], 1000));
    }
    CHECK(again.couplers[3] == session.couplers[3]);
}

TEST_CASE("a session of many long histories keeps fewer references of each, the newest still")
{
    Session session;
    for (int slot = 1; slot <= 5; ++slot)
        session.couplers[static_cast<std::size_t>(slot)] =
            inSlot(longCoupler("coupler " + std::to_string(slot), 1200), slot);
    const auto again = readAgain(session);
    for (std::size_t slot = 1; slot <= 5; ++slot) {
        REQUIRE(again.couplers[slot]);
        const auto count = again.couplers[slot]->references.size();
        CHECK((count >= 250 && count < 1000)); // five times 1000 of 1 kB are more than 4 MB, five times 250 are not
        CHECK(*again.couplers[slot] == newestOf(*session.couplers[slot], count));
    }
}

TEST_CASE("a session that can be read again keeps each reference, however many")
{
    Session session;
    session.couplers[4] = inSlot(longCoupler("long", 1500), 4);
    CHECK(readAgain(session) == session);
}

TEST_CASE("nothing is asked of a session that has the end of a long history, and nothing else that differs")
{
    const auto library = longCoupler("long", 1500);
    CHECK(asked(newestOf(library, 1000), library).empty());
    CHECK(asked(inSlot(newestOf(library, 250), 5), library).empty());

    auto corrected = newestOf(library, 1000);
    corrected.correction->value_dB += 0.1;
    CHECK(asked(corrected, library).size() == 1);
    auto more = newestOf(library, 1000);
    more.references.push_back(longReference(1500));
    auto questions = asked(more, library);
    REQUIRE(questions.size() == 1);
    CHECK(questions[0].onlyInSession == 1);
    CHECK(questions[0].onlyInLibrary == 500);
    auto aside = newestOf(library, 1000);
    aside.references[999].setAside = "the gain was changed";
    CHECK(asked(aside, library).size() == 1);

    // References that the session lacks at its end are new in the library.
    auto earlier = library;
    earlier.references.resize(1400);
    questions = asked(newestOf(earlier, 1000), library);
    REQUIRE(questions.size() == 1);
    CHECK(questions[0].state == ProfileState::libraryWentOn);
    CHECK(questions[0].onlyInLibrary == 500);
    // A history that is not long was never shortened.
    const auto small = longCoupler("long", 900);
    CHECK(asked(newestOf(small, 500), small).size() == 1);
}
