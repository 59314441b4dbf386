// SPDX-License-Identifier: GPL-3.0-or-later
//
// Names that look the same in the window: a session, an import and a new item meet what the library has under another
// spelling.
#include "Library/Scratch.h"
#include "Plugin/FolderActions.h"
#include "Plugin/ProfileQuestions.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

Coupler namedCoupler(const std::string& name, double offset_dB)
{
    Coupler coupler;
    coupler.name = name;
    coupler.references = {referenceAt("2026-05-03T12:04:11Z", offset_dB)};
    return coupler;
}

constexpr const char* composed = "Caf\u00E9";
constexpr const char* decomposed = "Cafe\u0301 ";

} // namespace

TEST_CASE("a session knows its coupler by a name that looks the same")
{
    Session session;
    session.couplers[1] = namedCoupler(decomposed, 122.0);
    Folder::Listing library;
    library.items = {namedCoupler(composed, 122.0)};
    CHECK(questionsOf(session, library).empty());
    library.items = {namedCoupler(composed, 110.0)};
    const auto questions = questionsOf(session, library);
    REQUIRE(questions.size() == 1);
    REQUIRE(questions.front().library);
    CHECK(questions.front().library->name == composed);
    // Where two look the same, the one of the very name.
    library.items = {namedCoupler(composed, 110.0), namedCoupler(decomposed, 122.0)};
    CHECK(questionsOf(session, library).empty());
}

TEST_CASE("an import asks before it replaces an item whose name looks the same")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(namedCoupler(composed, 122.0)));
    const auto file = scratch.path.parent_path() / "from elsewhere.json";
    writeContent(file, textOf(namedCoupler(decomposed, 110.0)));
    const auto differs = importPlanOf(folder, {file});
    REQUIRE(differs);
    CHECK(differs->question.differing.size() == 1);
    CHECK(differs->question.fresh == 0);
    writeContent(file, textOf(namedCoupler(decomposed, 122.0)));
    const auto same = importPlanOf(folder, {file});
    REQUIRE(same);
    CHECK(same->question.same == 1);
    CHECK(same->items.empty());
}

TEST_CASE("the window renames to a name as it is kept")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(namedCoupler("bench", 122.0)));
    const auto renamed = renamedIn(folder, "bench", decomposed);
    REQUIRE(renamed);
    CHECK(renamed->name == composed);
}
