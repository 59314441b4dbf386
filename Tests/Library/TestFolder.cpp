// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FileName.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <limits>
#include <set>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

Coupler bareCoupler(const std::string& name, int slot = 0)
{
    Coupler coupler;
    coupler.name = name;
    coupler.slot = slot;
    return coupler;
}

} // namespace

TEST_CASE("a saved item of each kind is found again, in a folder of any name")
{
    const Scratch scratch("Meine Bibliothek – 試料 é");
    const Folder folder(scratch.path / "made when missing" / "Couplet");
    CHECK(folder.list().items.empty());
    CHECK(folder.list().unreadable.empty());
    const std::vector<Item> items = {fullCoupler("one"), fullCalibrator("two"), fullEarphone("three"),
                                     fullDriveSource("four")};
    for (const auto& item : items)
        REQUIRE(folder.save(item));
    CHECK(folder.list().unreadable.empty());
    CHECK(folder.list().items == items);
    CHECK(*folder.coupler("one") == fullCoupler("one"));
    CHECK(*folder.calibrator("two") == fullCalibrator("two"));
    CHECK(*folder.earphone("three") == fullEarphone("three"));
    CHECK(*folder.find("four") == items[3]);
    CHECK(folder.holdsCoupler("one"));
    CHECK_FALSE(folder.holdsCoupler("two"));
}

TEST_CASE("names of any script, case and length are kept apart in portable file names")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    std::string longName;
    for (int i = 0; i < 120; ++i)
        longName += "耳";
    const std::vector<std::string> names = {"bench", "Bench", "BENCH", "ben ch", "ben-ch", "ben_20ch", "ben/ch",
                                            "..",    ".",     "é",     "\u00E8", "耳",     "ухо",      "𝄞",
                                            "_",     "a%b",   "a\\b",  "CON",    "-rf",    longName};
    std::set<std::string> files;
    for (const auto& name : names) {
        INFO(name);
        REQUIRE(folder.save(bareCoupler(name)));
        auto file = fileNameOf(bareCoupler(name));
        CHECK(file.size() <= 120);
        CHECK(file.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.") ==
              std::string::npos);
        std::transform(file.begin(), file.end(), file.begin(), [](unsigned char c) { return std::tolower(c); });
        files.insert(file);
    }
    CHECK(files.size() == names.size());
    CHECK(folder.list().items.size() == names.size());
    for (const auto& name : names)
        CHECK(folder.coupler(name)->name == name);
}

TEST_CASE("a file name stays what it was, so that a library keeps its files")
{
    CHECK(fileNameOf(bareCoupler("bench 2")) == "coupler-bench-2-67732ccb.json");
    CHECK(fileNameOf(fullDriveSource("é")) == "drive-source-_c3_a9-1e9de8c1.json");
}

TEST_CASE("saving again replaces the item and keeps the version before as .bak")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto earphone = fullEarphone("e");
    REQUIRE(folder.save(earphone));
    const auto first = contentOfFile(onlyFile(scratch.path, ".json"));
    earphone.note = "small tips";
    REQUIRE(folder.save(earphone));
    CHECK(folder.earphone("e")->note == "small tips");
    CHECK(contentOfFile(onlyFile(scratch.path, ".bak")) == first);
    // Saving what is there already must not cost the backup.
    REQUIRE(folder.save(earphone));
    CHECK(contentOfFile(onlyFile(scratch.path, ".bak")) == first);
    CHECK(onlyFile(scratch.path, ".tmp").empty());
}

TEST_CASE("an item in a file of another name is replaced there and not doubled")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    writeContent(scratch.path / "by hand.json", textOf(bareCoupler("bench")));
    REQUIRE(folder.save(bareCoupler("bench", 3)));
    CHECK(folder.list().items.size() == 1);
    CHECK(folder.coupler("bench")->slot == 3);
    CHECK(onlyFile(scratch.path, ".json") == scratch.path / "by hand.json");
}

TEST_CASE("two files of one kind and name are named, and the rest goes on working")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    writeContent(scratch.path / "a.json", textOf(bareCoupler("bench")));
    writeContent(scratch.path / "b.json", textOf(bareCoupler("bench")));
    const auto listing = folder.list();
    CHECK(listing.items.size() == 1);
    REQUIRE(listing.unreadable.size() == 1);
    CHECK(listing.unreadable[0].sentence == (scratch.path / "b.json").string() +
                                                ": name is 'bench', but a.json holds another coupler of that "
                                                "name; rename one or take it out of the "
                                                "folder");
}

TEST_CASE("a file that cannot be read is named, never overwritten, and the rest goes on working")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullEarphone("e")));
    const auto file = scratch.path / fileNameOf(bareCoupler("bench"));
    const std::string broken = "{\"kind\": \"coupler\", \"version\": 1,\n \"name\": \"bench\" \"slot\": 1}";
    writeContent(file, broken);
    const auto listing = folder.list();
    CHECK(listing.items.size() == 1);
    REQUIRE(listing.unreadable.size() == 1);
    CHECK(listing.unreadable[0].sentence.starts_with(file.string() + ", line 2: "));
    const auto saved = folder.save(bareCoupler("bench"));
    REQUIRE_FALSE(saved);
    CHECK(saved.fault().sentence == "coupler 'bench' was not saved: its file cannot be read and is left as it is (" +
                                        listing.unreadable[0].sentence + ")");
    CHECK(contentOfFile(file) == broken);
    CHECK_FALSE(fs::exists(file.string() + ".bak"));
}

TEST_CASE("a slot taken by another coupler is refused, a coupler's own is not")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(bareCoupler("left", 4)));
    REQUIRE(folder.save(bareCoupler("none")));
    REQUIRE(folder.save(bareCoupler("none too")));
    auto again = bareCoupler("left", 4);
    again.serial = "1";
    CHECK(folder.save(again));
    const auto refused = folder.save(bareCoupler("right", 4));
    REQUIRE_FALSE(refused);
    CHECK(refused.fault().sentence ==
          "coupler 'right' was not saved: slot 4 is taken by coupler 'left'; choose another slot");
    CHECK_FALSE(folder.holdsCoupler("right"));
}

TEST_CASE("an item that could not be read again is not saved")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto sentence = [&](const Item& item) {
        const auto saved = folder.save(item);
        return saved ? "it was saved" : saved.fault().sentence;
    };
    auto coupler = fullCoupler("c");
    coupler.references[0].budget[1].u_dB = std::numeric_limits<double>::quiet_NaN();
    CHECK(sentence(coupler) == "coupler 'c' was not saved: coupler 'c': references[0].budget[1].u_dB is null, but "
                               "must be a number; give it");
    CHECK(sentence(bareCoupler("")) == "coupler '' was not saved: coupler '': name has 0 characters, but must have 1 "
                                       "to 120; give another name");
    CHECK(sentence(bareCoupler("two\nlines")) == "coupler 'two?lines' was not saved: coupler 'two?lines': "
                                                 "name holds a line break or control character: "
                                                 "'two?lines'; take it out");
    CHECK(sentence(bareCoupler("\xFF")).find("it is not UTF-8") != std::string::npos);
    CHECK(sentence(bareCoupler("c", 17)) == "coupler 'c' was not saved: coupler 'c': slot is 17, but must be a whole "
                                            "number within 1 to 16; correct it");
    CHECK(folder.list().items.empty());
}

TEST_CASE("a removed item can be had back from its .bak")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullEarphone("e")));
    const auto file = onlyFile(scratch.path, ".json");
    REQUIRE(folder.remove("e"));
    CHECK_FALSE(folder.find("e"));
    fs::rename(file.string() + ".bak", file);
    CHECK(*folder.earphone("e") == fullEarphone("e"));
    CHECK_FALSE(folder.remove("f"));
}

TEST_CASE("a name that is not there lists near ones, or how to make one")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto place = fmt::format("'{}'", scratch.path.string());
    CHECK(folder.coupler("benhc").fault().sentence ==
          "no coupler 'benhc': the library " + place +
              " has none yet; 'couplet reference TAKE --coupler NAME --keep' makes one, and so does 'couplet "
              "library "
              "add FILE'");
    CHECK(folder.earphone("e").fault().sentence ==
          "no earphone 'e': the library " + place + " has none yet; 'couplet library add FILE' adds one");
    for (const auto* name : {"bench", "Benches", "bench 2", "bench 3", "ear", "ÜBUNG"})
        REQUIRE(folder.save(bareCoupler(name)));
    REQUIRE(folder.save(fullEarphone("Benhc")));
    CHECK(folder.coupler("benhc").fault().sentence == "no coupler 'benhc'; near: 'bench'");
    CHECK(folder.coupler("BENCH").fault().sentence == "no coupler 'BENCH'; near: 'bench', 'Benches', 'bench 2'");
    CHECK(folder.coupler("übung").fault().sentence == "no coupler 'übung'; near: 'ÜBUNG'");
    CHECK(folder.coupler("quite another").fault().sentence ==
          "no coupler 'quite another' in the library " + place + "; 'couplet library list' shows what is there");
    CHECK(folder.find("benhc").fault().sentence == "no item 'benhc'; near: 'Benhc', 'bench'");
    writeContent(scratch.path / "x.json", "");
    CHECK(folder.coupler("benhc").fault().sentence ==
          "no coupler 'benhc'; near: 'bench' (and of its files 1 cannot be read; the first: " +
              folder.list().unreadable.front().sentence + ")");
}

TEST_CASE("a name shared by two kinds is told apart by the kind in front")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(bareCoupler("a")));
    REQUIRE(folder.save(fullEarphone("a")));
    CHECK(folder.find("a").fault().sentence ==
          "the kinds coupler and earphone both have an item 'a'; write 'coupler a' or 'earphone a'");
    CHECK(std::holds_alternative<Earphone>(*folder.find("earphone a")));
    REQUIRE(folder.remove("coupler a"));
    CHECK(std::holds_alternative<Earphone>(*folder.find("a")));
}

TEST_CASE("a file from elsewhere is read and written with the same checks")
{
    const Scratch scratch;
    const auto file = scratch.path / "out.json";
    REQUIRE(Folder::writeFile(file, fullCoupler("c")));
    CHECK(std::get<Coupler>(*Folder::readFile(file)) == fullCoupler("c"));
    REQUIRE(Folder::writeFile(file, fullEarphone("e")));
    CHECK(nameOf(*Folder::readFile(file)) == "e");
    const auto foreign = scratch.path / "notes.txt";
    writeContent(foreign, "not ours");
    CHECK_FALSE(Folder::writeFile(foreign, fullEarphone("e")));
    CHECK(contentOfFile(foreign) == "not ours");
    CHECK(Folder::readFile(scratch.path / "none.json").fault().sentence ==
          (scratch.path / "none.json").string() +
              ": it could not be read (No such file or directory); check its name and its permissions");
}

TEST_CASE("the library's folder follows the environment")
{
    const auto* const home = std::getenv("HOME");
    const std::string before = home ? home : "";
    ::setenv("COUPLET_LIBRARY", "/one", 1);
    CHECK(Folder::defaultPath() == "/one");
    ::unsetenv("COUPLET_LIBRARY");
    ::setenv("XDG_DATA_HOME", "/two", 1);
    CHECK(Folder::defaultPath() == "/two/Couplet");
    ::setenv("XDG_DATA_HOME", "not/absolute", 1);
    ::setenv("HOME", "/three", 1);
    CHECK(Folder::defaultPath() == "/three/.local/share/Couplet");
    ::unsetenv("XDG_DATA_HOME");
    ::setenv("HOME", before.c_str(), 1);
}
