// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/AudioHalf.h"
#include "Plugin/LiveView.h"
#include "Plugin/Parameters.h"

#include <optional>
#include <string>

// Purpose: the parameters in the words of those who use them.
// Units:   V RMS, ohm, percent of reading, dB.
// Thread:  as each function says.
namespace couplet {

// What the message thread needs to choose from a session and to judge.
struct BenchSettings
{
    int couplerSlot = 0, earphoneSlot = 0, secondCouplerSlot = 0; // 0: by hand
    std::string side;
    std::optional<Volts> driveVoltage;   // typed
    std::optional<Ohms> source;          // there when the drive is an open-circuit voltage
    std::optional<Volts> driveFullScale; // of the channel that senses it
    std::optional<Percent> meterAccuracy;
    double largestU_dB = defaultLargestU_dB;
    FrequencyWeighting weighting = FrequencyWeighting::Z;
    TimeWeighting time = TimeWeighting::fast;
    bool hold = false;
    PassInput passInput = PassInput::guarded;
    AudioSettings audio;

    bool operator==(const BenchSettings&) const = default;
};

AudioSettings audioSettings(const Parameters&) noexcept; // audio
PassInput passInputOf(const Parameters&) noexcept;       // any
BenchSettings benchSettings(const Parameters&);          // any but audio

// The value of `simulated_source` for what is on the coupler; 0 is 'off'.
int simulatedSourceOf(const OnCoupler&) noexcept;

} // namespace couplet
