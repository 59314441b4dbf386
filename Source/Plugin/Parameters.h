// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ParameterList.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <array>
#include <cstddef>

// Purpose: the list's parameters (Bench/ParameterList.h) as a host sees them.
// Rules:   all are continuous to the host, those of whole numbers too: JUCE 7.0.5 writes LV2 scale points of discrete
//          parameters normalised into a range that is not, and a host would then set slot 1 for slot 16.
// Units:   as listed; voltages and impedances with five significant figures, so that a value comes back from the
//          host's 0 to 1 as it went.
// Thread:  reading any (an atomic); setting any but audio (the host's listeners lock).
namespace couplet {

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

private:
    std::array<juce::AudioParameterFloat*, parameterCount> all{};
};

} // namespace couplet
