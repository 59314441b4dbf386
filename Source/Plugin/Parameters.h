// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <juce_audio_processors/juce_audio_processors.h>

#include <array>
#include <cstddef>

// Purpose: everything a host may set or automate, in one list (Parameters.cpp) with id, range, unit and text.
// Rules:   ids and their order never change once released: sessions, automation and LV2's URIs hold them.
//          All are continuous to the host, those of whole numbers too: JUCE 7.0.5 writes LV2 scale points of discrete
//          parameters normalised into a range that is not, and a host would then set slot 1 for slot 16.
// Units:   as listed; voltages and impedances with five significant figures, so that a value comes back from the
//          host's 0 to 1 as it went.
// Thread:  reading any (an atomic); setting any but audio (the host's listeners lock).
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
};
inline constexpr std::size_t parameterCount = 17;

// Plain values in the order above.
using ParameterValues = std::array<double, parameterCount>;

class Parameters
{
public:
    // Gives the processor one parameter for each line of the list; it owns them.
    explicit Parameters(juce::AudioProcessor&);

    float plain(ParameterId id) const noexcept { return at(id).get(); }
    int whole(ParameterId id) const noexcept { return juce::roundToInt(plain(id)); }
    bool isOn(ParameterId id) const noexcept { return plain(id) > 0.5f; }

    // The decimal that a person typed, not the float nearest to it: 0.1232, never 0.12319999933.
    double exact(ParameterId) const;

    void set(ParameterId, double plainValue);       // tells the host
    void setByHand(ParameterId, double plainValue); // likewise, as one gesture, so that a host records it
    ParameterValues values() const;                 // exact
    void restore(const ParameterValues&);           // tells the host

    juce::AudioParameterFloat& at(ParameterId id) const noexcept { return *all[static_cast<std::size_t>(id)]; }

    struct Line
    {
        const char* id;
        double low, high, initial;
    };
    static Line line(std::size_t index);

private:
    std::array<juce::AudioParameterFloat*, parameterCount> all{};
};

} // namespace couplet
