// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a screen may ask for, at random.
#include "Plugin/Fuzz/Subject.h"

#include <fmt/format.h>

namespace couplet::fuzz {

void Subject::pressControl()
{
    OnCoupler on;
    on.what = chance.oneOf({OnCoupler::What::nothing, OnCoupler::What::calibrator, OnCoupler::What::earphone});
    on.earphone = static_cast<std::size_t>(chance.whole(0, 3));
    on.side = chance.once(2) ? Side::left : Side::right;
    const int which = chance.whole(0, 17);
    doing = fmt::format("control {}", which);
    switch (which) {
    case 0:
        processor->simulate(true, on);
        break;
    case 1:
        processor->simulate(false, on);
        break;
    case 2:
        processor->resetExtremes();
        twin.restartLevels();
        break;
    case 3:
        processor->showSpectrum(chance.once(2));
        break;
    case 4:
        processor->unmuteLoop();
        break;
    case 5:
        processor->capture(chance.once(2));
        break;
    case 6:
        processor->takeReference();
        break;
    case 7:
        processor->takeReferenceHandsFree();
        break;
    case 8:
        processor->checkReference();
        break;
    case 9:
        processor->cancelReference();
        break;
    case 10:
        processor->undoReference();
        break;
    case 11:
        processor->captureFitReadings(chance.once(2));
        break;
    case 12:
        processor->takeFitReading();
        break;
    case 13:
        processor->nextFitTarget();
        break;
    case 14:
        processor->addFitReading({FitKind::through, 0}, chance.whole(100, 120));
        break;
    case 15:
        processor->undoFit();
        break;
    case 16:
        processor->fillFitFromSimulation();
        break;
    default:
        processor->chooseCouplerSlot(chance.whole(0, 2));
    }
}

} // namespace couplet::fuzz
