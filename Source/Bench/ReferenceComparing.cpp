// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReferenceComparing.h"

#include "Bench/ChainHistory.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace couplet {
namespace {

constexpr double shown_dB = 0.005; // less is not seen in two decimals

} // namespace

void compareWithHistory(ReferenceOutcome& out, const ReferenceSetup& setup)
{
    const Reference taken = out.kept(setup);
    const auto kept = runOffsets_dB(setup.coupler.references, taken);
    if (const Reference* last = setup.coupler.current()) {
        const double by_dB = offsetAs_dB(*last, taken) - last->offset_dB;
        if (std::abs(by_dB) >= shown_dB) {
            out.correctionChange_dB = by_dB;
            out.notes.push_back(fmt::format("the correction is {} dB and was {} dB at the last reference: that alone "
                                            "moves the offset by {} dB",
                                            levelText(*taken.takenOff_dB()), levelText(*last->takenOff_dB()),
                                            signedLevelText(by_dB)));
        }
    }
    out.history = checkAgainstHistory(out.offset->level_dB, kept);
    if (kept.empty())
        out.notes.push_back("the first reference of this coupler: there is none to compare it with");
    if (out.history.change_dB)
        out.warnings.push_back({fmt::format("last time, within {:.2f} dB", out.history.allowedChange_dB),
                                *out.history.change_dB,
                                out.history.allowedChange_dB,
                                "dB",
                                std::abs(*out.history.change_dB) <= out.history.allowedChange_dB,
                                {}});
    const bool unusual = out.history.change_dB && std::abs(*out.history.change_dB) > out.history.allowedChange_dB;
    // References in a row without lifting scatter by next to nothing: what two seatings differ by is no move.
    const double seatings_dB = 2.0 * std::numbers::sqrt2 * setup.coupler.judged.seating_dB.value_or(assumedSeating_dB);
    if (unusual && std::abs(*out.history.change_dB) > seatings_dB)
        out.moved_dB = out.history.change_dB;
    if (unusual)
        out.notes.push_back(fmt::format("moved by {} dB since the last reference (within {:.2f} dB is usual): was a "
                                        "gain changed, or is the calibrator not seated?",
                                        signedLevelText(*out.history.change_dB), out.history.allowedChange_dB));
    else if (out.history.withinLimits == false)
        out.notes.push_back("outside the control limits of the references kept so far: was a gain changed, or is the "
                            "calibrator not seated?");
}

std::string whatToCheck(const ReferenceOutcome& outcome)
{
    if (!outcome.moved_dB)
        return {};
    return fmt::format("The offset moved by {} dB since the last reference, and {:.2f} dB is usual. Is it the "
                       "calibrator's tone, is it seated, and was a gain or the microphone changed on purpose?",
                       signedLevelText(*outcome.moved_dB), outcome.history.allowedChange_dB);
}

} // namespace couplet
