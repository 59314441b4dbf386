// SPDX-License-Identifier: GPL-3.0-or-later
//
// Versions beside other items that change, and beside another program.
#include "Library/FolderVersions.h"
#include "Library/Scratch.h"
#include "Library/VersionName.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <sys/wait.h>
#include <unistd.h>

using namespace couplet;
using namespace couplet::tests;

namespace {

Coupler withCorrection(Coupler coupler, double value_dB)
{
    coupler.correction->value_dB = value_dB;
    return coupler;
}

} // namespace

TEST_CASE("names that others got since are followed, and who chose a correction goes on being named")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto coupler = withCorrection(fullCoupler("bench"), 1.44);
    coupler.correction->chosenBy = {"P"};
    coupler.correction->calibrator = "Lab";
    REQUIRE(folder.save(coupler));
    auto earphone = fullEarphone("P");
    earphone.choseCorrectionOf = {"bench"};
    REQUIRE(folder.save(earphone));
    REQUIRE(folder.save(fullCalibrator("Lab")));
    auto typed = coupler;
    typed.correction = Correction{1.0, {}, false, "", {}, "typed", "2026-06-01", std::vector<std::string>{}};
    REQUIRE(folder.save(typed));
    earphone.choseCorrectionOf.clear();
    REQUIRE(folder.save(earphone));
    REQUIRE(folder.rename("P", "P left"));
    REQUIRE(folder.rename("Lab", "Lab 2"));
    REQUIRE(putBackVersion(folder, "bench", 1));
    const auto back = folder.coupler("bench");
    CHECK(back->correction->chosenBy == std::vector<std::string>{"P left"});
    CHECK(back->correction->calibrator == "Lab 2");
    CHECK(folder.earphone("P left")->choseCorrectionOf == std::vector<std::string>{"bench"});
    REQUIRE(folder.rename("bench", "bank"));
    REQUIRE(putBackVersion(folder, "P left", 1)); // it named the coupler by its old name
    CHECK(folder.earphone("P left")->choseCorrectionOf == std::vector<std::string>{"bank"});
}

TEST_CASE("a removed item's versions are found by its name in whichever way it is written")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullEarphone("caf\u00e9")));
    REQUIRE(folder.remove("caf\u00e9"));
    CHECK(versionsOf(folder, " cafe\u0301 ")->list.size() == 1);
    REQUIRE(putBackVersion(folder, "earphone cafe\u0301", 1));
    CHECK(*folder.earphone("caf\u00e9") == fullEarphone("caf\u00e9"));
}

TEST_CASE("two programs that put back and save lose neither a reference nor a version")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto coupler = withCorrection(fullCoupler("bench"), 1.0);
    REQUIRE(folder.save(coupler));
    REQUIRE(folder.save(withCorrection(coupler, 2.0)));
    constexpr int times = 30;
    const auto child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        bool good = true;
        for (int i = 0; i < times; ++i) {
            const auto versions = versionsOf(folder, "bench");
            good = versions && versions->unreadable.empty() && !versions->list.empty() && good;
            if (good)
                (void)putBackVersion(folder, "bench", versions->list.front().number); // it may be gone by now
        }
        ::_exit(good ? 0 : 1);
    }
    for (int i = 1; i <= times; ++i) {
        auto mine = *folder.coupler("bench");
        mine.references.push_back(referenceAt(fmt::format("2026-07-01T10:{:02}:00Z", i), 100.0 + i));
        mine.correction->value_dB = 2.0 + i;
        REQUIRE(folder.save(mine));
    }
    int status = 1;
    ::waitpid(child, &status, 0);
    CHECK(status == 0);
    CHECK(folder.coupler("bench")->references.size() == coupler.references.size() + times);
    const auto versions = versionsOf(folder, "bench");
    REQUIRE(versions);
    CHECK(versions->unreadable.empty());
    CHECK(versions->list.size() >= 10);
    for (std::size_t i = 1; i < versions->list.size(); ++i)
        CHECK(versions->list[i].number < versions->list[i - 1].number);
}

TEST_CASE("the name of a version's file is read back, and no other name is taken for one")
{
    const auto name = versionName(12, "2026-05-03T12:04:11Z", Replaced::byRemoval);
    CHECK(name == "000012-20260503T120411Z-removed.json");
    const auto version = versionNamed(std::filesystem::path("a folder") / name);
    REQUIRE(version);
    CHECK(version->number == 12);
    CHECK(version->until == "2026-05-03T12:04:11Z");
    CHECK(version->how == Replaced::byRemoval);
    CHECK(versionNamed("1234567-20260503T120411Z-changed.json"));
    for (std::size_t size = 0; size < name.size(); ++size)
        CHECK_FALSE(versionNamed(name.substr(0, size)));
    for (const char* other :
         {"12", "-", ".json", "-1-20260503T120411Z-changed.json", "0-20260503T120411Z-changed.json",
          "99999999999-20260503T120411Z-changed.json", "000001-20261303T120411Z-changed.json",
          "000001-20260503T120411Z.json", "000001-.json", "000001--changed.json", "000001-20260503T120411Z-.json",
          "000001-20260503T120411Z-other.json", "000001-20260503T120411Z-changed.json.bak",
          "000001-20260503T120411Z-changed-1.json", ".couplet-12-0.tmp"})
        CHECK_FALSE(versionNamed(other));
}
