// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/SimulatedPapers.h"

namespace couplet {

Coupler couplerOnPaper(const Scenario& s)
{
    Coupler c;
    c.name = s.couplerName;
    c.kind = s.couplerKind;
    c.microphone = "built in, simulated";
    c.input = "simulated bench, channel 1";
    c.slot = 1;
    c.simulated = true;
    Correction correction;
    correction.value_dB = s.correction_dB;
    correction.U_dB = s.correctionU_dB;
    correction.includesCalibrator = true;
    correction.calibrator = s.calibrator.name;
    correction.frequency = s.calibrator.nominal;
    correction.chosenBy.emplace();
    for (const SimulatedEarphone& earphone : s.earphones)
        if (!earphone.keptAside)
            correction.chosenBy->emplace_back(earphone.name);
    correction.origin = "stored with the scenario: four fittings and earphones P, Q, R";
    c.correction = correction;
    return c;
}

Calibrator calibratorOnPaper(const Scenario& s)
{
    Calibrator c;
    c.name = s.calibrator.name;
    c.certificate = "invented for the simulated bench";
    c.calibratorClass = s.calibrator.calibratorClass;
    c.tones = {{s.calibrator.nominal, s.calibrator.certified_dBSPL, s.calibrator.certificateU_dB}};
    c.pressureLaw.kind = PressureLaw::Kind::none; // so this bench plays it
    c.simulated = true;
    return c;
}

Earphone earphoneOnPaper(const Scenario& s, std::size_t index)
{
    const SimulatedEarphone& from = s.earphones.at(index);
    Earphone e;
    e.name = from.name;
    e.rating.level_dB = from.rated_dBPerVolt;
    e.rating.frequency = from.ratedFrequency;
    e.rating.tolerance_dB = from.ratedTolerance_dB;
    e.rating.impedance = from.impedance;
    e.keptAside = from.keptAside;
    if (!from.keptAside)
        e.choseCorrectionOf = {std::string(s.couplerName)};
    e.simulated = true;
    return e;
}

Drive driveOnPaper(const Scenario& s, std::size_t index)
{
    const SimulatedEarphone& from = s.earphones.at(index);
    Drive d;
    d.voltage = from.drive;
    d.source = from.source;
    d.meterAccuracy = s.meterAccuracy;
    return d;
}

} // namespace couplet
