// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FileName.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

const std::filesystem::path presets = std::filesystem::path(COUPLET_TESTS_DIR) / ".." / "Presets";

} // namespace

TEST_CASE("the presets load whole, as a library of their own")
{
    const auto listing = Folder(presets).list();
    for (const auto& fault : listing.unreadable)
        FAIL_CHECK(fault.sentence);
    CHECK(listing.items.size() == 7);
}

TEST_CASE("each preset is exactly what the library would write, under the name it would choose")
{
    for (const auto& item : Folder(presets).list().items) {
        INFO(nameOf(item));
        CHECK(contentOfFile(presets / fileNameOf(item)) == textOf(item));
    }
}

TEST_CASE("preset couplers have no reference, so that none shows dB SPL before its first")
{
    int couplers = 0;
    for (const auto& item : Folder(presets).list().items) {
        const auto* coupler = std::get_if<Coupler>(&item);
        if (!coupler)
            continue;
        ++couplers;
        CHECK(coupler->references.empty());
        CHECK_FALSE(coupler->correction);
        CHECK(coupler->slot == 0);
    }
    CHECK(couplers == 4);
}

TEST_CASE("preset calibrators claim no certificate")
{
    for (const auto& item : Folder(presets).list().items)
        if (const auto* calibrator = std::get_if<Calibrator>(&item)) {
            CHECK(calibrator->certificate.empty());
            for (const auto& tone : calibrator->tones)
                CHECK_FALSE(tone.U_dB);
        }
}
