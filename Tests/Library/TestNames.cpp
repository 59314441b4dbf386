// SPDX-License-Identifier: GPL-3.0-or-later
//
// Names that look the same are the same: what is kept of a name, what is compared, and what a library does with both.
// Characters are written as escapes, for nobody could tell them apart here.
#include "Library/Bundle.h"
#include "Library/Json.h"
#include "Library/Names.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

#include <algorithm>

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

// As an older Couplet kept it, or a person wrote it: whatever its name is.
void putFile(const std::filesystem::path& folder, const char* file, const Coupler& coupler)
{
    writeContent(folder / file, textOf(coupler));
}

std::vector<std::string> namesIn(const Folder& folder)
{
    std::vector<std::string> names;
    for (const auto& item : folder.list().items)
        names.push_back(nameOf(item));
    return names;
}

} // namespace

TEST_CASE("a name is kept composed, trimmed, with one blank for many and nothing that is not seen")
{
    // Compositions: Unicode Standard Annex 15, figures 3 to 5 (from memory).
    CHECK(keptName("Cafe\u0301") == "Caf\u00E9");
    CHECK(keptName("\u212B \u2126") == "\u00C5 \u03A9");
    CHECK(keptName("s\u0307\u0323") == "\u1E69");
    CHECK(keptName("\u1112\u1161\u11AB") == "\uD55C");
    CHECK(keptName("  Bench \u00A0\u2003 two\u3000") == "Bench two");
    CHECK(keptName("\uFEFFBe\u00ADn\u200Bch\u2060") == "Bench");
    CHECK(keptName("\u202Eab\u202C\u200E\u2066c\u2069\u061C") == "abc");
    CHECK(keptName("Bench\u200D\u200C\uFE0F") == "Bench");
    CHECK(keptName("a\u200B\u0301") == "\u00E1"); // what comes together when the middle goes
    CHECK(keptName("\u200B \u2060").empty());
    CHECK(keptName("Bench no. 4, left (P)") == "Bench no. 4, left (P)");
    CHECK(keptName("tab\there") == "tab\there"); // refused where it is read
    CHECK(keptName("\xC3(") == "\xC3(");         // no UTF-8
}

TEST_CASE("names of every script and pictures keep what shapes them")
{
    for (const char* name : {"\u0645\u06CC\u200C\u062E\u0648\u0627\u0647\u0645", // Persian, with a non-joiner
                             "\u0915\u094D\u200D\u0937",                         // Devanagari, a half letter
                             "\u0D28\u0D4D\u200D",                               // Malayalam, at a word's end
                             "\U0001F468\u200D\U0001F469\u200D\U0001F467",       // a family
                             "\u2764\uFE0F\u200D\U0001F525", "1\uFE0F\u20E3", "\U0001F44D\U0001F3FD",
                             "\U0001F3F4\U000E0067\U000E0062\U000E0065\U000E006E\U000E0067\U000E007F", // a flag
                             "\u845B\U000E0100", "\u6D4B\u91CF\u53F0", "\u05D1\u05B0\u05E8\u05D0"})
        CHECK(keptName(name) == name);
}

TEST_CASE("names look the same whatever nobody sees, and differ by what is seen")
{
    const auto same = [](const char* a, const char* b) { return lookTheSame(a, b) && lookOf(a) == lookOf(b); };
    CHECK(same("Caf\u00E9", "Cafe\u0301"));
    CHECK(same("Bench", " Bench\u200B"));
    CHECK(same("Bench two", "Bench\u00A0 two"));
    CHECK(same("\u0645\u06CC\u200C\u062E", "\u0645\u06CC\u062E"));
    CHECK(same("\u2764\uFE0F", "\u2764"));
    CHECK(same("2 \u00B5F", "2 \u03BCF"));
    CHECK(same("P\u2011left", "P-left"));
    const auto differ = [](const char* a, const char* b) { return !lookTheSame(a, b) && lookOf(a) != lookOf(b); };
    CHECK(differ("Bench", "bench"));
    CHECK(differ("Bench", "B\u00E9nch"));
    CHECK(differ("Bench two", "Benchtwo"));
    CHECK(differ("Bench", "Benc\u04BB"));
    CHECK(differ("\U0001F468\u200D\U0001F467", "\U0001F468\U0001F467"));
    CHECK(differ("\xC3(", "\xC3)"));
    const auto england = "\U0001F3F4\U000E0067\U000E0062\U000E0065\U000E006E\U000E0067\U000E007F";
    CHECK(differ(england, "\U0001F3F4"));
}

TEST_CASE("an item saved, found, renamed and copied under a name that looks the same is the same item")
{
    const Scratch scratch("na\u00EFve");
    const Folder folder(scratch.path);
    REQUIRE(folder.save(namedCoupler(" Cafe\u0301 \u200B bench ", 122.0)));
    CHECK(namesIn(folder) == std::vector<std::string>{"Caf\u00E9 bench"});
    REQUIRE(folder.coupler("Cafe\u0301  bench"));
    REQUIRE(folder.find("coupler Cafe\u0301 bench"));

    auto again = namedCoupler("Cafe\u0301 bench", 123.0);
    again.references.front().takenAt = "2026-05-04T12:04:11Z";
    REQUIRE(folder.save(again));
    const auto kept = folder.coupler("Caf\u00E9 bench");
    REQUIRE(kept);
    CHECK(kept->name == "Caf\u00E9 bench");
    CHECK(kept->references.size() == 2); // one history, and nothing lost

    REQUIRE(folder.save(namedCoupler("Bench", 110.0)));
    const auto taken = folder.rename("Bench", "\uFEFFCafe\u0301 bench");
    REQUIRE_FALSE(taken);
    CHECK(taken.fault().sentence.find("already") != std::string::npos);
    CHECK(folder.rename("Bench", "Bench\u200B")); // its own: nothing to do
    REQUIRE(folder.rename("Bench\u200B", "  Room  2 "));
    CHECK(namesIn(folder) == std::vector<std::string>{"Caf\u00E9 bench", "Room 2"});
    const auto nothing = folder.save(namedCoupler("\u200B", 110.0));
    REQUIRE_FALSE(nothing);
    CHECK(nothing.fault().sentence.find("no character that can be seen") != std::string::npos);
    CHECK_FALSE(folder.rename("Room 2", " \u2060"));
    std::string grows; // 120 characters, of which normal form C makes 240: what is written must be read again
    for (int i = 0; i < 120; ++i)
        grows += "\u0958";
    CHECK_FALSE(folder.save(namedCoupler(grows, 110.0)));
    CHECK(folder.list().unreadable.empty());
    CHECK(namesIn(folder).size() == 2);

    REQUIRE(folder.remove("Room\u00A02"));
    REQUIRE(folder.putBack("Room 2\u200B"));
    CHECK(folder.holdsCoupler("Room 2"));
}

TEST_CASE("two names that look the same in a library are named with their files, and both work")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    putFile(scratch.path, "coupler-a.json", namedCoupler("Bench", 122.0));
    putFile(scratch.path, "coupler-b.json", namedCoupler("Bench\u200B", 110.0));
    putFile(scratch.path, "coupler-c.json", namedCoupler("other", 100.0));
    const auto listing = folder.list();
    CHECK(listing.items.size() == 3);
    CHECK(listing.unreadable.empty());
    REQUIRE(listing.lookAlikes.size() == 1);
    for (const char* file : {"coupler-a.json", "coupler-b.json"})
        CHECK(listing.lookAlikes.front().sentence.find(file) != std::string::npos);

    // Each by its own name, and by its file.
    REQUIRE(folder.coupler("Bench\u200B"));
    CHECK(folder.coupler("Bench\u200B")->references.front().offset_dB == 110.0);
    CHECK(folder.coupler("Bench")->references.front().offset_dB == 122.0);
    const auto byFile = folder.find("coupler-b.json");
    REQUIRE(byFile);
    CHECK(std::get<Coupler>(*byFile).references.front().offset_dB == 110.0);

    // A third look is none of the two: it is asked, and nothing is written.
    const auto either = folder.coupler("Ben\u00ADch");
    REQUIRE_FALSE(either);
    CHECK(either.fault().sentence.find("coupler-b.json") != std::string::npos);
    CHECK_FALSE(folder.find("Ben\u00ADch"));
    CHECK(folder.holdsCoupler("Ben\u00ADch"));
    CHECK_FALSE(folder.save(namedCoupler("Ben\u00ADch", 1.0)));
    CHECK_FALSE(folder.remove("Ben\u00ADch"));

    // Saved again, each stays itself.
    auto second = *folder.coupler("Bench\u200B");
    second.serial = "2";
    REQUIRE(folder.save(second));
    CHECK(folder.coupler("Bench")->serial.empty());
    CHECK(folder.coupler("Bench\u200B")->serial == "2");

    // The mend.
    REQUIRE(folder.rename("coupler-b.json", "Bench 2"));
    CHECK(folder.list().lookAlikes.empty());
    CHECK(folder.coupler("Bench 2")->references.front().offset_dB == 110.0);
    CHECK(folder.coupler("Ben\u00ADch")->references.front().offset_dB == 122.0);
}

TEST_CASE("what comes from a file joins the item whose name looks the same, or is refused, and never lies beside it")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(namedCoupler("Caf\u00E9", 122.0)));
    const auto file = scratch.path.parent_path() / "from elsewhere.json";
    writeContent(file, textOf(namedCoupler("Cafe\u0301 ", 122.0)));
    const auto items = readItems(file);
    REQUIRE(items);
    CHECK(nameOf(items->front()) == "Caf\u00E9");
    const auto plan = planToSave(folder, *items, "file");
    REQUIRE(plan);
    CHECK(plan->alreadyThere.size() == 1); // the same in all but what nobody sees
    REQUIRE(Folder::readFile(file));
    CHECK(nameOf(*Folder::readFile(file)) == "Caf\u00E9");

    CHECK_FALSE(planToSave(folder, {namedCoupler("Cafe\u0301", 99.0)}, "file"));
    const auto twice = planToSave(folder, {namedCoupler("x\u200B", 1.0), namedCoupler("x", 1.0)}, "file");
    REQUIRE_FALSE(twice);
    CHECK(twice.fault().sentence.find("twice") != std::string::npos);
    writeContent(file, textOf(namedCoupler("\u200B", 1.0)));
    CHECK_FALSE(readItems(file));
}

TEST_CASE("an earphone that chose a correction is known by a name that looks the same")
{
    Coupler coupler = namedCoupler("bench", 122.0);
    coupler.references.front().correction = Correction{};
    coupler.references.front().correction->chosenBy = {"Caf\u00E9"};
    CHECK(coupler.wasChosenBy("Cafe\u0301") == true);
    CHECK(coupler.wasChosenBy("Cafe") == false);
}
