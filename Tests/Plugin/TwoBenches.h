// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/FitRig.h"

// Purpose: a FitRig with a second coupler in slot 2, which has no correction.
// Thread:  message, which plays the audio thread too.
namespace couplet::tests {

struct TwoBenches : FitRig
{
    TwoBenches()
    {
        auto right = plainCoupler("right bench");
        right.correction.reset();
        processor.putInSlot(2, right);
        rig.settle();
    }
    void choose(int slot)
    {
        processor.chooseCouplerSlot(slot);
        rig.settle();
    }
    std::optional<Correction> ofSlot(std::size_t slot) { return processor.sessionNow().couplers[slot]->correction; }
    bool used()
    {
        return wait([](const FitView& v) { return !v.used.empty() || !v.notice.empty(); });
    }
};

} // namespace couplet::tests
