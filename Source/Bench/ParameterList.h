// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

// Purpose: everything a host may set or automate, in one list with id, name, range, unit and the names of its values;
//          free of any framework, so that a session's text is read without one.
// Rules:   ids and their order never change once released: sessions, automation and LV2's URIs hold them.
// Units:   as listed.
// Thread:  any but audio: the list is made when first asked for.
namespace couplet {

enum class ParameterId : std::size_t {
    couplerSlot,       // 0: by hand; 1 to 16
    earphoneSlot,      // 0: by hand; 1 to 32
    side,              // 0: none, 1: left, 2: right
    driveVoltage,      // mV RMS; 0: none
    driveOpenCircuit,  // 0: across the earphone, 1: open-circuit voltage of a source
    sourceImpedance,   // ohm
    microphoneChannel, // 1 or 2
    secondChannel,     // 0: unused, 1: drive, 2: a second coupler's microphone
    secondCouplerSlot, // as couplerSlot
    driveFullScale,    // V RMS of a full-scale sine; 0: not known
    meterAccuracy,     // percent of reading; 0: not stated
    largestU,          // dB; the largest expanded uncertainty that may be called agreement
    weighting,         // 0: A, 1: C, 2: Z
    timeWeighting,     // 0: fast, 1: slow
    hold,              // 0: live, 1: the numbers stand still
    simulatedSource,   // 0: off; 1: nothing on the coupler, 2: calibrator, from 3: each earphone's left and right
    simulatedDrive,    // mV RMS; 0: that of the earphone's own reading
    passInput,         // 0: not at all, 1: guarded, 2: on, without the guard; see PassInput
};
inline constexpr std::size_t parameterCount = 18;
// Those that were there from the start are in every session's text. A later one is only where it is not as it starts, so
// that older programs open what does not need it.
inline constexpr std::size_t firstParameterCount = 17;

// What becomes of the input at the plugin's output: the values of `passInput`.
enum class PassInput { notAtAll, guarded, unguarded };

// Plain values in the order above.
using ParameterValues = std::array<double, parameterCount>;

struct ParameterLine
{
    enum class Spacing { whole, quantity };

    const char* id;
    const char* name;
    const char* unit;
    double low, high, initial;
    Spacing spacing;
    std::vector<std::string> names; // of the whole numbers from `low` on; empty: "slot 3"
    const char* ofZero;             // for a quantity: what 0 stands for; null: 0
};

// `parameterCount` lines in the order of the ids.
const std::vector<ParameterLine>& parameterLines();

} // namespace couplet
