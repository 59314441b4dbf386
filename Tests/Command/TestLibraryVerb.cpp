// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/ItemText.h"
#include "Command/Shelf.h"
#include "Library/Bundle.h"
#include "Library/Json.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <map>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

// Every file of a folder with its content.
std::map<std::string, std::string> contentOfFolder(const fs::path& folder)
{
    std::map<std::string, std::string> files;
    if (fs::exists(folder))
        for (const auto& entry : fs::directory_iterator(folder))
            files[entry.path().filename().string()] = contentOfFile(entry.path());
    return files;
}

const JsonList* listIn(const JsonValue& value, const std::string& name)
{
    for (const auto& [field, content] : *value.as<JsonObject>())
        if (field == name)
            return content.as<JsonList>();
    return nullptr;
}

std::string bundleOf(const std::vector<Item>& items)
{
    return *bundleTextOf(items);
}

} // namespace

TEST_CASE("the list shows each item on a line of aligned columns")
{
    const Shelf shelf;
    const auto text = shelf.answer({"list"});
    CHECK(text.starts_with("library '" + shelf.folder.path().string() + "'\n"));
    CHECK(text.find("\ncoupler       bench     ear simulator IEC 60318-4, offset ") != std::string::npos);
    CHECK(text.find("\ncalibrator    Lab       ") != std::string::npos);
    CHECK(text.find("\nearphone      S 試      ") != std::string::npos);
    CHECK(text.find("\ndrive source  output 1  ") != std::string::npos);
    CHECK(Shelf(false).answer({"list"}).ends_with("': no items yet\n"));
}

TEST_CASE("the list as JSON has every item as its file has it")
{
    const Shelf shelf;
    const auto text = shelf.answer({"list", "--json"});
    CHECK(std::count(text.begin(), text.end(), '\n') == 1);
    const auto value = parsedJson(text, "list");
    REQUIRE(value);
    const char* names[] = {"couplers", "calibrators", "earphones", "drive_sources"};
    for (std::size_t i = 0; i < shelf.items.size(); ++i) {
        const auto* list = listIn(*value, names[i]);
        REQUIRE(list);
        REQUIRE(list->size() == 1);
        CHECK(*itemFrom(printedJson(list->front(), JsonLayout::line), "list") == shelf.items[i]);
    }
    CHECK(listIn(*value, "notes")->empty());
}

TEST_CASE("an item that cannot be read is named, and the others are still there")
{
    const Shelf shelf;
    writeContent(shelf.folder.path() / "earphone-broken.json", "{");
    const auto text = shelf.answer({"list"});
    CHECK(text.find("\nnot read: " + (shelf.folder.path() / "earphone-broken.json").string()) != std::string::npos);
    CHECK(text.find("bench") != std::string::npos);
    const auto value = parsedJson(shelf.answer({"list", "--json"}), "list");
    REQUIRE(value);
    CHECK(listIn(*value, "notes")->size() == 1);
    CHECK(listIn(*value, "couplers")->size() == 1);
}

TEST_CASE("show gives one item, for a person and for a program")
{
    const Shelf shelf;
    for (const auto& item : shelf.items) {
        const auto text = shelf.answer({"show", nameOf(item)});
        CHECK(text.starts_with(kindOf(item)));
        CHECK(text.find(nameOf(item)) != std::string::npos);
        CHECK(*itemFrom(shelf.answer({"show", nameOf(item), "--json"}), "show") == item);
    }
    const auto coupler = shelf.answer({"show", "bench"});
    CHECK(coupler.find("correction") != std::string::npos);
    CHECK(coupler.find("2026-05-03T12:04:11Z") != std::string::npos);
    CHECK(shelf.refusal({"show", "bnech"}) == "no item 'bnech'; near: 'bench'");
}

TEST_CASE("add takes one item's file, once")
{
    const Shelf shelf(false);
    const auto file = shelf.file("bench.json", textOf(Item(fullCoupler("bench"))));
    CHECK(shelf.answer({"add", file}) == "added coupler 'bench'\n");
    CHECK(*shelf.folder.coupler("bench") == fullCoupler("bench"));
    const auto before = contentOfFolder(shelf.folder.path());
    CHECK(shelf.answer({"add", file}) == "coupler 'bench' was there already, the same\n");
    CHECK(shelf.answer({"add", file, "--json"}) ==
          "{\"added\": [], \"notes\": [\"coupler 'bench' was there already, the same\"]}\n");
    auto other = fullCoupler("bench");
    other.gainNote = "another gain";
    const auto different = shelf.file("other.json", textOf(Item(other)));
    CHECK(shelf.refusal({"add", different}) == different +
                                                   ": nothing was saved, for the library holds a coupler 'bench' "
                                                   "that differs; remove one or rename one");
    CHECK(shelf.refusal({"add", shelf.file("broken.json", "{")})
              .starts_with(shelf.file("broken.json", "{") + ", line 1"));
    CHECK(contentOfFolder(shelf.folder.path()) == before);
}

TEST_CASE("remove keeps the file as a backup")
{
    const Shelf shelf;
    CHECK(shelf.answer({"remove", "Lab"}).starts_with("removed calibrator 'Lab'\n"));
    CHECK_FALSE(shelf.folder.calibrator("Lab"));
    CHECK(contentOfFile(onlyFile(shelf.folder.path(), ".bak")) == textOf(shelf.items[1]));
    CHECK(shelf.refusal({"remove", "Lab"}).starts_with("no item 'Lab'"));
    CHECK(shelf.answer({"remove", "bench", "--json"})
              .starts_with("{\"removed\": [{\"kind\": \"coupler\", \"name\": \"bench\"}],"));
}

TEST_CASE("a library exported and imported elsewhere is the same")
{
    const Shelf shelf;
    const auto file = (shelf.scratch.path / "all.json").string();
    CHECK(shelf.answer({"export", file}).find("exported coupler 'bench'\n") != std::string::npos);
    const Folder elsewhere(shelf.scratch.path / "elsewhere");
    const auto imported = shelf.run({"import", file}, elsewhere);
    REQUIRE(imported);
    CHECK(imported->text.find("imported earphone 'S 試'\n") != std::string::npos);
    CHECK(elsewhere.list().items == shelf.items);
    CHECK(contentOfFolder(elsewhere.path()) == contentOfFolder(shelf.folder.path()));
    const auto again = shelf.run({"import", file, "--json"}, elsewhere);
    REQUIRE(again);
    CHECK(again->text.starts_with("{\"imported\": [],"));
}

TEST_CASE("export writes over nothing, and not an empty library")
{
    const Shelf shelf;
    const auto taken = shelf.file("take.wav", "a take");
    CHECK(shelf.refusal({"export", taken}) == taken + ": it is there already and is left as it is; give another name");
    CHECK(contentOfFile(taken) == "a take");
    const auto file = shelf.scratch.path / "all.json";
    CHECK(Shelf(false).refusal({"export", file.string()}).find(" has no items to export; ") != std::string::npos);
    CHECK_FALSE(fs::exists(file));
    CHECK(shelf.refusal({"export", (shelf.scratch.path / "nowhere" / "all.json").string()}) != "no fault");
}

TEST_CASE("import also takes a single item")
{
    const Shelf shelf(false);
    CHECK(shelf.answer({"import", shelf.file("one.json", textOf(Item(fullEarphone("P"))))}) ==
          "imported earphone 'P'\n");
    CHECK(*shelf.folder.earphone("P") == fullEarphone("P"));
}

TEST_CASE("an import that cannot be whole changes nothing")
{
    const Shelf shelf;
    auto differing = fullCoupler("bench");
    differing.gainNote = "another gain";
    auto sameSlot = fullCoupler("second");
    REQUIRE(sameSlot.slot == fullCoupler("bench").slot);
    REQUIRE(sameSlot.slot != 0);
    auto alsoSameSlot = fullCoupler("third");
    alsoSameSlot.slot = sameSlot.slot = 15;
    REQUIRE(fullCoupler("bench").slot != 15);
    const Item fresh = fullEarphone("fresh");
    const auto newer = [] {
        auto text = bundleOf({fullEarphone("fresh")});
        return text.replace(text.rfind("\"version\": 1"), 12, "\"version\": 2");
    }();
    const struct
    {
        std::string content;
        std::string sentence;
    } cases[] = {
        {bundleOf({fresh, differing}),
         ": nothing was saved, for the library holds a coupler 'bench' that differs; remove one or rename one"},
        {bundleOf({fresh, fullCoupler("second")}),
         fmt::format(
             ": nothing was saved, for coupler 'second' wants slot {}, which is taken by coupler 'bench'; choose "
             "another slot",
             fullCoupler("bench").slot)},
        {bundleOf({fresh, sameSlot, alsoSameSlot}),
         ": nothing was saved, for coupler 'third' wants slot 15, which is taken "
         "by coupler 'second'; choose another slot"},
        {bundleOf({fresh, fresh}), ": nothing was saved, for it holds earphone 'fresh' twice; take one out"},
        {newer, ": version is 2, but this Couplet reads version 1; read the file with a newer Couplet"},
        {R"({"kind": "couplet library", "version": 1})", ": items is missing; add it as a list"},
        {R"({"kind": "couplet library", "version": 1, "items": 3})",
         ": items is a number, but must be a list; correct it"},
        {R"({"kind": "couplet library", "version": 1, "items": [{"kind": "earphone", "version": 1, "name": "x"}]})",
         ": items[0]: rating is missing; add it as an object"},
        {R"({"kind": "couplet library", "version": 1, "items": [], "more": 1})",
         ": more is a field this Couplet does not know; take it out, or read the file with the newer Couplet that "
         "wrote it"},
    };
    const auto before = contentOfFolder(shelf.folder.path());
    for (const auto& each : cases) {
        const auto file = shelf.file("import.json", each.content);
        CHECK(shelf.refusal({"import", file}) == file + each.sentence);
        CHECK(contentOfFolder(shelf.folder.path()) == before);
    }
    CHECK(shelf.refusal({"import", "no-such.json"}).starts_with("no-such.json: it could not be read ("));
}

TEST_CASE("an import leaves alone what it cannot read, before it saves anything")
{
    const Shelf shelf(false);
    REQUIRE(shelf.folder.save(fullEarphone("P")));
    writeContent(onlyFile(shelf.folder.path(), ".json"), "{");
    const auto before = contentOfFolder(shelf.folder.path());
    const auto file = shelf.file("import.json", bundleOf({fullEarphone("Q"), fullEarphone("P")}));
    CHECK(shelf.refusal({"import", file})
              .find("the library's file of earphone 'P' cannot be read and is left as it is") != std::string::npos);
    CHECK(contentOfFolder(shelf.folder.path()) == before);
}

TEST_CASE("a library call that is wrong is refused")
{
    const Shelf shelf;
    CHECK(shelf.refusal({"lst"}) == "library has no 'lst'; near: list");
    CHECK(shelf.refusal({"frobnicate"}) ==
          "library has no 'frobnicate'; there are: list, show, add, remove, putback, versions, rename, copy, "
          "presets, export, import");
    CHECK(shelf.refusal({"list", "x"}) == "library list takes nothing behind it, and 'x' is there; leave it out");
    CHECK(shelf.refusal({"show", "S", "試"}) == "library show takes no more behind it, and '試' is there; leave it out "
                                                "or put a name with spaces in quotes");
    CHECK(shelf.refusal({"show"}) == "library show needs NAME; write it behind the show");
    const auto file = shelf.file("file", "");
    CHECK(shelf.run({"list"}, Folder(file)).fault().sentence ==
          file + ": it is no folder; name the library's folder with --library");
}

TEST_CASE("columns are aligned by characters, and no line ends in spaces")
{
    CHECK(alignedText({{"a", "b", "c"}, {"試験", "", "d"}, {"e", "ff", ""}, {"g"}}) ==
          "a   b   c\n試験      d\ne   ff\ng\n");
}
