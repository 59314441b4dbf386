// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FileName.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

#include <iterator>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

std::string faultOf(const Outcome<Done>& outcome)
{
    return outcome ? "no fault" : outcome.fault().sentence;
}

template <class T> T named(T item, const std::string& name)
{
    item.name = name;
    return item;
}

Coupler inSlot(Coupler coupler, int slot)
{
    coupler.slot = slot;
    return coupler;
}

} // namespace

TEST_CASE("a renamed item of each kind is the same under its new name alone")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const std::vector<Item> before = {fullCoupler("a"), fullCalibrator("a"), fullEarphone("a"), fullDriveSource("a")};
    const std::vector<Item> after = {fullCoupler("試 b"), fullCalibrator("試 b"), fullEarphone("試 b"),
                                     fullDriveSource("試 b")};
    for (const auto& item : before)
        REQUIRE(folder.save(item));
    for (const auto& item : before)
        REQUIRE(folder.rename(kindOf(item) + " a", "試 b"));
    CHECK(folder.list().items == after);
    for (const auto& item : after)
        CHECK(fs::exists(scratch.path / fileNameOf(item)));
    REQUIRE(folder.rename("coupler 試 b", "試 b"));
    CHECK(folder.list().items == after);
}

TEST_CASE("a rename that would take something else's place is refused and changes nothing")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullCoupler("a")));
    REQUIRE(folder.save(inSlot(fullCoupler("b"), 3)));
    REQUIRE(folder.save(fullEarphone("c")));
    const auto before = folder.list().items;
    CHECK(faultOf(folder.rename("a", "b")) ==
          "coupler 'a' was not renamed: there is a coupler 'b' already; choose another name");
    CHECK(
        faultOf(folder.rename("a", "")).ends_with("name has 0 characters, but must have 1 to 120; give another name"));
    CHECK(faultOf(folder.rename("a", "two\nlines")).find("line break") != std::string::npos);
    CHECK(faultOf(folder.rename("z", "y")).starts_with("no item 'z'"));
    const auto taken = scratch.path / fileNameOf(fullCoupler("d"));
    writeContent(taken, "{");
    CHECK(faultOf(folder.rename("a", "d")) ==
          "coupler 'a' was not renamed: '" + taken.string() + "' holds something else; rename that file");
    CHECK(folder.list().items == before);
    REQUIRE(folder.rename("a", "c")); // another kind's name is free
}

TEST_CASE("an item in a file that a person named keeps that file when it is renamed")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    writeContent(scratch.path / "mine.json", textOf(fullEarphone("a")));
    REQUIRE(folder.rename("a", "b"));
    CHECK(*folder.earphone("b") == fullEarphone("b"));
    CHECK(fs::exists(scratch.path / "mine.json"));
}

TEST_CASE("an item in the file of another name makes way for the one that the file is named for")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    writeContent(scratch.path / fileNameOf(fullEarphone("a")), textOf(fullEarphone("b"))); // a rename cut short
    REQUIRE(folder.save(fullEarphone("a")));
    CHECK(folder.list().items == std::vector<Item>{fullEarphone("a"), fullEarphone("b")});
}

TEST_CASE("earphones that chose a coupler's correction follow its name, and its copies")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullCoupler("bench")));
    auto earphone = fullEarphone("P");
    earphone.choseCorrectionOf = {"bench", "other"};
    REQUIRE(folder.save(earphone));
    REQUIRE(folder.rename("bench", "bank"));
    CHECK(folder.earphone("P")->choseCorrectionOf == std::vector<std::string>{"other", "bank"});
    REQUIRE(folder.copy("bank"));
    CHECK(folder.earphone("P")->choseCorrectionOf == std::vector<std::string>{"other", "bank", "bank copy"});
}

TEST_CASE("a correction names the earphones that chose it by their new names, and the history keeps what was written")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto coupler = fullCoupler("bench");
    coupler.correction->chosenBy = {"P", "Q"};
    coupler.references.back().correction = coupler.correction;
    REQUIRE(folder.save(coupler));
    REQUIRE(folder.save(fullEarphone("P")));
    REQUIRE(folder.rename("P", "P left"));
    auto after = *folder.coupler("bench");
    CHECK(after.correction->chosenBy == std::vector<std::string>{"Q", "P left"});
    CHECK(after.references == coupler.references);
    CHECK(after.wasChosenBy("P left") == true);
    CHECK(after.wasChosenBy("R") == false);
    REQUIRE(folder.copy("P left"));
    CHECK(folder.coupler("bench")->wasChosenBy("P left copy") == true);
    after.correction->value_dB += 0.1; // another by now: the reference's own names are all that is known
    CHECK(after.wasChosenBy("P left") == false);
    CHECK(after.wasChosenBy("Q") == true);
}

TEST_CASE("a correction belongs to its calibrator under the new name, and the history keeps what was written")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto coupler = fullCoupler("bench");
    coupler.correction->calibrator = "lab";
    coupler.references[0].calibrator = "lab";
    REQUIRE(folder.save(coupler));
    REQUIRE(folder.save(fullCalibrator("lab")));
    REQUIRE(folder.rename("lab", "laboratory"));
    CHECK(folder.coupler("bench")->correction->calibrator == "laboratory");
    CHECK(folder.coupler("bench")->references == coupler.references);
}

TEST_CASE("a copy of a coupler is another coupler: no references, no slot, and a correction that says whose it is")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto original = fullCoupler("bench");
    REQUIRE(folder.save(original));
    const auto name = folder.copy("bench");
    REQUIRE(name);
    CHECK(*name == "bench copy");
    auto expected = named(original, "bench copy");
    expected.references.clear();
    expected.slot = 0;
    expected.correction->origin = "fit of 2026-05-03, copied from coupler 'bench'";
    CHECK(*folder.coupler("bench copy") == expected);
    CHECK(*folder.coupler("bench") == original);
}

TEST_CASE("a copy of a calibrator claims no certificate")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullCalibrator("lab")));
    const auto copy = folder.calibrator(*folder.copy("lab"));
    REQUIRE(copy);
    CHECK(copy->certificate.empty());
    CHECK(copy->serial.empty());
    CHECK(copy->due.empty());
    for (const auto& tone : copy->tones)
        CHECK_FALSE(tone.U_dB);
    CHECK(copy->pressureLaw == fullCalibrator("lab").pressureLaw);
}

TEST_CASE("each copy gets a name that is free and not too long")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullEarphone("S")));
    CHECK(*folder.copy("S") == "S copy");
    CHECK(*folder.copy("S") == "S copy 2");
    CHECK(*folder.copy("S copy 2") == "S copy 3");
    CHECK(*folder.copy("S copy") == "S copy 4");
    std::string longest;
    for (int i = 0; i < 120; ++i)
        longest += "試";
    REQUIRE(folder.save(fullEarphone(longest)));
    const auto name = folder.copy(longest);
    REQUIRE(name);
    CHECK(name->ends_with("試 copy"));
    CHECK(folder.list().items.size() == 7);
    CHECK_FALSE(folder.copy("T"));
}

TEST_CASE("what was removed last under a name is put back as it was")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullCoupler("bench")));
    REQUIRE(folder.save(fullEarphone("P")));
    writeContent(scratch.path / "mine.json", textOf(fullEarphone("Q")));
    const auto before = folder.list().items;
    for (const auto* name : {"bench", "P", "Q"})
        REQUIRE(folder.remove(name));
    CHECK(folder.list().items.empty());
    CHECK(faultOf(folder.putBack("R")) == "nothing named 'R' was removed from the library '" + scratch.path.string() +
                                              "'; these can be put back: coupler 'bench', earphone 'P', "
                                              "earphone 'Q'");
    for (const auto* name : {"coupler bench", "P", "Q"})
        REQUIRE(folder.putBack(name));
    CHECK(folder.list().items == before);
    CHECK(faultOf(folder.putBack("P")).ends_with("nothing is there to put back"));
    CHECK(faultOf(Folder(scratch.path / "none").putBack("P")).starts_with("there is no library '"));
    CHECK_FALSE(fs::exists(scratch.path / "none"));
}

TEST_CASE("what was only saved again is nothing to put back, and of what was renamed the version before is")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto earphone = fullEarphone("P");
    REQUIRE(folder.save(earphone));
    earphone.note = "small tips";
    REQUIRE(folder.save(earphone));
    CHECK_FALSE(folder.putBack("P"));
    REQUIRE(folder.rename("P", "Q"));
    CHECK_FALSE(folder.putBack("Q"));
    REQUIRE(folder.putBack("P"));
    CHECK(*folder.earphone("P") == fullEarphone("P"));
    CHECK(*folder.earphone("Q") == named(earphone, "Q"));
}

TEST_CASE("what was removed can be put back also when another item had its name for a while")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullEarphone("b")));
    REQUIRE(folder.remove("b"));
    auto other = fullEarphone("a");
    REQUIRE(folder.save(other));
    other.note = "saved twice, so that it has a backup";
    REQUIRE(folder.save(other));
    REQUIRE(folder.rename("a", "b"));
    REQUIRE(folder.rename("b", "c"));
    REQUIRE(folder.putBack("b"));
    CHECK(*folder.earphone("b") == fullEarphone("b"));
    CHECK(*folder.earphone("c") == named(other, "c"));
}

TEST_CASE("nothing is put back over what took its name, its file or its slot meanwhile")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullCoupler("bench")));
    REQUIRE(folder.remove("bench"));
    REQUIRE(folder.save(inSlot(fullCoupler("other"), fullCoupler("bench").slot)));
    CHECK(faultOf(folder.putBack("bench")) == "coupler 'bench' was not put back: slot 16 is taken by coupler 'other' "
                                              "by now; give that one another slot first");
    REQUIRE(folder.remove("other"));
    writeContent(scratch.path / "mine.json", textOf(inSlot(fullCoupler("bench"), 0)));
    CHECK(faultOf(folder.putBack("bench")) == "coupler 'bench' was not put back: there is another of that name by "
                                              "now; rename that one first");
    REQUIRE(folder.rename("bench", "another"));
    REQUIRE(folder.putBack("bench"));
    CHECK(*folder.coupler("bench") == fullCoupler("bench"));
    CHECK(folder.save(inSlot(fullCoupler("bench"), 4))); // its file is an ordinary one again
}
