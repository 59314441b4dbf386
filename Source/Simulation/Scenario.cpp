// SPDX-License-Identifier: GPL-3.0-or-later
#include "Simulation/Scenario.h"

#include "Quantities/Decibels.h"

namespace couplet {

std::optional<double> trueLevel_dBSPL(const Scenario& scenario, const OnCoupler& on) noexcept
{
    switch (on.what) {
    case OnCoupler::What::nothing:
        return std::nullopt;
    case OnCoupler::What::calibrator:
        return scenario.calibrator.certified_dBSPL - scenario.correction_dB;
    case OnCoupler::What::earphone:
        break;
    }
    if (on.earphone >= scenario.earphones.size())
        return std::nullopt;
    const auto& earphone = scenario.earphones[on.earphone];
    const auto drive = on.drive.value_or(earphone.drive);
    if (!(drive.value > 0.0))
        return std::nullopt;
    const double atItsDrive = on.side == Side::left ? earphone.left_dBSPL : earphone.right_dBSPL;
    return atItsDrive + decibels(drive / earphone.drive);
}

} // namespace couplet
