// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FileName.h"
#include "Plugin/LibraryRig.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

Coupler withReference(Coupler coupler, const std::string& time, double offset_dB)
{
    coupler.references.push_back(referenceAt(time, offset_dB));
    return coupler;
}

const Coupler base = withReference(referencedCoupler("bench", 120.0), "2026-05-03T12:00:00Z", 120.1);
const Coupler longer = withReference(base, "2026-05-04T12:00:00Z", 120.2);

// A session that holds `ours` in slot 3, opened where the library holds `theirs`.
struct Opened : LibraryRig
{
    Opened(const Coupler& ours, const std::optional<Coupler>& theirs)
    {
        if (theirs)
            REQUIRE(folder.save(*theirs));
        start();
        SavedSession saved{{}, processor->parameters.values()};
        saved.session.couplers[3] = ours;
        restore(textOf(saved));
        REQUIRE(done());
    }
    Coupler ours() { return *processor->sessionNow().couplers[3]; }
    const ProfileQuestion& question()
    {
        REQUIRE(view().questions.size() == 1);
        return view().questions.front();
    }
    void answer(ProfileAnswer a)
    {
        const auto asked = question();
        desk().answer(asked, a);
        REQUIRE(done());
    }
};

} // namespace

TEST_CASE("a session opened where the library lacks its coupler works, and offers to keep it")
{
    Opened rig(base, {});
    CHECK(rig.question().state == ProfileState::notInLibrary);
    CHECK(rig.question().slots == std::vector<int>{3});
    CHECK(rig.folder.list().items.empty()); // nothing is kept unasked
    REQUIRE(rig.row("bench") != nullptr);
    CHECK_FALSE(rig.row("bench")->inLibrary);
    const auto before = rig.state();
    rig.answer(ProfileAnswer::keepSessions);
    CHECK(rig.folder.coupler("bench")->references == base.references);
    CHECK(rig.view().questions.empty());
    CHECK(rig.state() == before);
}

TEST_CASE("the same coupler in another slot is no question")
{
    Opened rig(base, inSlot(base, 9));
    CHECK(rig.view().questions.empty());
}

TEST_CASE("a library that went on is asked about, and either answer keeps every reference somewhere")
{
    Opened rig(base, longer);
    CHECK(rig.question().state == ProfileState::libraryWentOn);
    CHECK(rig.question().onlyInLibrary == 1);
    CHECK(rig.question().onlyInSession == 0);
    CHECK(rig.ours() == base); // nothing is overwritten unasked
    rig.answer(ProfileAnswer::takeLibrarys);
    CHECK(rig.ours() == longer);
    CHECK(rig.view().questions.empty());
    CHECK(*rig.folder.coupler("bench") == longer);
    rig.desk().undo();
    REQUIRE(rig.done());
    CHECK(rig.ours() == base);
    CHECK(rig.question().left);
}

TEST_CASE("a session that went on is kept with one merged history")
{
    Opened rig(longer, inSlot(base, 5));
    CHECK(rig.question().state == ProfileState::sessionWentOn);
    CHECK(rig.question().onlyInSession == 1);
    rig.answer(ProfileAnswer::keepSessions);
    CHECK(rig.folder.coupler("bench")->references == longer.references);
    CHECK(rig.folder.coupler("bench")->slot == 5); // the library's own order stays
    CHECK(rig.view().questions.empty());
}

TEST_CASE("two versions that both went on are merged when the session's is kept")
{
    auto ours = withReference(base, "2026-05-05T08:00:00Z", 121.5);
    ours.serial = "the session's";
    Opened rig(ours, longer);
    CHECK(rig.question().state == ProfileState::differs);
    CHECK(rig.question().onlyInSession == 1);
    CHECK(rig.question().onlyInLibrary == 1);
    rig.answer(ProfileAnswer::keepSessions);
    const auto kept = *rig.folder.coupler("bench");
    CHECK(kept.serial == "the session's");
    CHECK(kept.references.size() == 4);
    CHECK(countMissing(longer.references, kept.references) == 0);
    CHECK(countMissing(ours.references, kept.references) == 0);
    CHECK(rig.ours().references == kept.references);
    CHECK(rig.view().questions.empty());
}

TEST_CASE("both left as they are change nothing and are not asked about again, until one of them changes")
{
    auto ours = base;
    ours.serial = "the session's";
    Opened rig(ours, base);
    CHECK_FALSE(rig.question().left);
    const auto before = rig.state();
    rig.answer(ProfileAnswer::leaveBoth);
    CHECK(rig.question().left);
    CHECK(rig.state() == before);
    CHECK(*rig.folder.coupler("bench") == base);
    REQUIRE(rig.folder.save(longer));
    CHECK(rig.until([](const LibraryView& v) { return v.questions.size() == 1 && !v.questions[0].left; }));
}

TEST_CASE("a reference that goes into session and library alike is no question, not even for a moment")
{
    Opened rig(base, base);
    bool asked = false;
    rig.processor->putInSlot(3, std::optional(longer));
    REQUIRE(rig.folder.save(longer));
    rig.until(
        [&](const LibraryView& v) {
            asked = asked || !v.questions.empty();
            return false;
        },
        1.5);
    CHECK_FALSE(asked);
    CHECK(rig.ours() == longer);
}

TEST_CASE("a coupler whose slot another has in the library is kept without one")
{
    Opened rig(inSlot(base, 3), {});
    REQUIRE(rig.folder.save(inSlot(referencedCoupler("other", 1.0), 3)));
    rig.answer(ProfileAnswer::keepSessions);
    CHECK_FALSE(rig.view().refused);
    CHECK(rig.folder.coupler("bench")->slot == 0);
    CHECK(rig.folder.coupler("other")->slot == 3);
    CHECK(rig.view().questions.empty());
}

TEST_CASE("a coupler that cannot be kept is refused with a sentence, and session and file stay as they were")
{
    Opened rig(base, {});
    const auto before = rig.state();
    const auto file = rig.scratch.path / fileNameOf(base);
    writeContent(file, "{ torn");
    rig.answer(ProfileAnswer::keepSessions);
    CHECK(rig.view().refused);
    CHECK(rig.view().said.find("cannot be read") != std::string::npos);
    CHECK(contentOfFile(file) == "{ torn");
    CHECK(rig.state() == before);
    CHECK(rig.question().state == ProfileState::notInLibrary);
}

TEST_CASE("an import that replaces nothing goes in, and one that would asks first")
{
    LibraryRig rig;
    REQUIRE(rig.folder.save(base));
    rig.start();
    REQUIRE(rig.done());
    const auto outside = rig.scratch.path.parent_path();
    REQUIRE(Folder::writeFile(outside / "new.json", referencedCoupler("new one", 99.0)));
    rig.desk().importFiles({outside / "new.json"});
    REQUIRE(rig.done());
    CHECK(rig.folder.holdsCoupler("new one"));
    CHECK(rig.view().newest == "new one");
    CHECK_FALSE(rig.view().import);

    auto other = withReference(base, "2026-05-06T08:00:00Z", 121.7);
    other.serial = "the file's";
    REQUIRE(Folder::writeFile(outside / "other.json", other));
    rig.desk().importFiles({outside / "other.json"});
    REQUIRE(rig.done());
    REQUIRE(rig.view().import);
    CHECK(rig.view().import->differing.size() == 1);
    CHECK(*rig.folder.coupler("bench") == base);
    rig.desk().answerImport(false);
    REQUIRE(rig.done());
    CHECK(*rig.folder.coupler("bench") == base);
    rig.desk().importFiles({outside / "other.json"});
    REQUIRE(rig.done());
    rig.desk().answerImport(true);
    REQUIRE(rig.done());
    CHECK_FALSE(rig.view().import);
    CHECK(rig.folder.coupler("bench")->serial == "the file's");
    CHECK(rig.folder.coupler("bench")->references.size() == 3);
}

TEST_CASE("a library is exported as one file, which another library imports whole")
{
    LibraryRig rig;
    REQUIRE(rig.folder.save(fullCoupler("a")));
    REQUIRE(rig.folder.save(fullEarphone("b")));
    rig.start();
    REQUIRE(rig.done());
    const auto file = rig.scratch.path.parent_path() / "all.json";
    rig.desk().exportTo("", file);
    REQUIRE(rig.done());
    const auto text = contentOfFile(file);
    REQUIRE_FALSE(text.empty());
    rig.desk().exportTo("", file);
    REQUIRE(rig.done());
    CHECK(rig.view().refused); // never written over
    CHECK(contentOfFile(file) == text);

    const auto items = rig.folder.list().items;
    rig.processor.reset(); // a process has one library at a time
    LibraryRig other;
    other.start();
    other.desk().importFiles({file});
    REQUIRE(other.done());
    CHECK(other.folder.list().items == items);
}
