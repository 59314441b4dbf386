// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"

#include <string>
#include <vector>

// Purpose: writes down what a screen asked for, and does nothing.
namespace couplet {

class IdleControls : public Controls
{
public:
    std::vector<std::string> asked;
    std::optional<Volts> drive;
    OnCoupler simulated;

    void chooseCouplerSlot(int slot) override { note("coupler " + std::to_string(slot)); }
    void chooseEarphoneSlot(int slot) override { note("earphone " + std::to_string(slot)); }
    void chooseSide(const std::string& side) override { note("side " + side); }
    void setDrive(std::optional<Volts> volts) override
    {
        drive = volts;
        note("drive");
    }
    void setWeighting(FrequencyWeighting w) override { note("weighting " + std::to_string(static_cast<int>(w))); }
    void setTimeWeighting(TimeWeighting t) override { note(t == TimeWeighting::fast ? "fast" : "slow"); }
    void setHold(bool on) override { note(on ? "hold" : "go on"); }
    void resetExtremes() override { note("reset"); }
    void unmuteLoop() override { note("unmute"); }
    void showSpectrum(bool on) override { note(on ? "spectrum" : "no spectrum"); }
    void simulate(bool on, const OnCoupler& what) override
    {
        simulated = what;
        note(on ? "simulate" : "leave");
    }

private:
    void note(const std::string& what) { asked.push_back(what); }
};

} // namespace couplet
