// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LibraryRig.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

Coupler withCorrection(Coupler coupler, double value_dB)
{
    coupler.correction->value_dB = value_dB;
    return coupler;
}

// Slot 4 of the session has "bench" as the library has it, with an overwritten correction.
struct Changed : LibraryRig
{
    Coupler typed = inSlot(withCorrection(fullCoupler("bench"), 1.44), 4);
    Coupler present = withCorrection(typed, 1.52);
    Changed()
    {
        REQUIRE(folder.save(typed));
        REQUIRE(folder.save(present));
        start();
        REQUIRE(done());
    }
    std::vector<std::string> changes()
    {
        std::vector<std::string> all;
        if (view().versions)
            for (const auto& row : view().versions->rows)
                all.push_back(row.change);
        return all;
    }
};

using Changes = std::vector<std::string>;

} // namespace

TEST_CASE("an overwritten correction is put back from the window, in the session too, and undone")
{
    Changed rig;
    CHECK_FALSE(rig.view().versions);
    rig.desk().listVersions("bench");
    REQUIRE(rig.done());
    REQUIRE(rig.changes() == Changes{"correction 1.44 \u2192 1.52 dB"});
    CHECK(rig.view().versions->coupler == "bench");
    rig.desk().putBackVersion("bench", rig.view().versions->rows[0].number);
    REQUIRE(rig.done());
    CHECK(*rig.folder.coupler("bench") == rig.typed);
    CHECK(rig.processor->sessionNow().couplers[4] == rig.typed);
    CHECK(rig.view().said == "'bench' is as it was in version 1");
    CHECK_FALSE(rig.view().refused);
    CHECK(rig.view().questions.empty());
    CHECK(rig.changes() == Changes{"correction 1.52 \u2192 1.44 dB", "correction 1.44 \u2192 1.52 dB"});
    CHECK(rig.view().undo == "what 'bench' was before");
    rig.desk().undo();
    REQUIRE(rig.done());
    CHECK(*rig.folder.coupler("bench") == rig.present);
    CHECK(rig.processor->sessionNow().couplers[4] == rig.present);
    CHECK(rig.view().questions.empty());
}

TEST_CASE("the list of versions follows what another program changes, until nobody looks any more")
{
    Changed rig;
    rig.desk().listVersions("bench");
    REQUIRE(rig.done());
    auto next = rig.present;
    next.serial = "7";
    REQUIRE(Folder(rig.scratch.path).save(next));
    CHECK(rig.until([&](const LibraryView&) { return rig.changes().size() == 2; }));
    rig.desk().listVersions("");
    CHECK_FALSE(rig.view().versions);
    next.serial = "8";
    REQUIRE(Folder(rig.scratch.path).save(next));
    REQUIRE(rig.until([&](const LibraryView&) { return rig.row("bench")->profile->correction->value_dB == 1.52; }));
    CHECK_FALSE(rig.until([](const LibraryView& v) { return v.versions.has_value(); }, 1.5));
}

TEST_CASE("a version whose slot is given away, one that is gone and a coupler that is not there are refused")
{
    Changed rig;
    auto away = rig.present;
    away.slot = 0;
    REQUIRE(rig.folder.save(away));
    REQUIRE(rig.folder.save(inSlot(fullCoupler("other"), 4)));
    rig.desk().putBackVersion("bench", 1);
    REQUIRE(rig.done());
    CHECK(rig.view().refused);
    CHECK(rig.view().said.find("slot 4 is taken by coupler 'other' by now") != std::string::npos);
    rig.desk().putBackVersion("bench", 77);
    REQUIRE(rig.done());
    CHECK(rig.view().said.find("has no version 77") != std::string::npos);
    rig.desk().listVersions("nowhere");
    REQUIRE(rig.done());
    CHECK(rig.view().refused);
    CHECK_FALSE(rig.view().versions);
    CHECK(*rig.folder.coupler("bench") == away);
    CHECK(rig.view().undo.empty());
}

TEST_CASE("a version that stands already is said to, and changes nothing")
{
    Changed rig;
    REQUIRE(rig.folder.rename("bench", "bank"));
    REQUIRE(rig.until([&](const LibraryView&) { return rig.row("bank") != nullptr; }));
    const auto before = *rig.folder.coupler("bank");
    rig.desk().putBackVersion("bank", 2); // it had another name, and nothing else
    REQUIRE(rig.done());
    CHECK(rig.view().said.find("stood so already") != std::string::npos);
    CHECK(rig.view().undo.empty());
    CHECK(*rig.folder.coupler("bank") == before);
}
