// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ParameterList.h"
#include "Bench/Reading.h"
#include "Bench/SpectrumReading.h"
#include "Signal/BroadbandMeter.h"
#include "Simulation/Scenario.h"

#include <array>
#include <cstdint>
#include <deque>
#include <optional>
#include <string>

// Purpose: everything a screen shows, as a value: the plugin makes one some twenty times a second, a screen draws it and
//          knows nothing else. Two equal views need no repaint.
// Units:   dB SPL, or dBFS while the coupler has no reference (see Reading::referenced); s.
// Thread:  message.
namespace couplet {

enum class TimeWeighting { fast, slow };

// How old the chosen coupler's reference is.
enum class ReferenceState { noCoupler, none, fresh, stale };

struct TrendPoint
{
    std::optional<double> level_dB; // absent: no tone, a gap in the line
    bool operator==(const TrendPoint&) const = default;
};

struct LiveView
{
    Reading reading;
    std::array<std::string, 16> slotNames; // couplers of this session by slot; empty: no coupler there
    std::array<std::string, 32> earphoneNames;
    int couplerSlot = 0; // 0: none chosen
    int earphoneSlot = 0;
    std::string side; // "left", "right" or empty
    ReferenceState reference = ReferenceState::noCoupler;
    std::optional<double> referenceAge_s;
    std::string couplerNotice;  // one sentence, e.g. that a switch waits; empty: nothing
    std::string microphoneText; // "mic: in 1"
    std::string driveText;      // "drive: typed", "drive: in 2", "drive: none"

    std::deque<TrendPoint> trend; // one every 250 ms, newest last, at most 240 (60 s)
    FrequencyWeighting weighting = FrequencyWeighting::Z;
    TimeWeighting time = TimeWeighting::fast;
    std::optional<double> weighted_dB, weightedMax_dB, weightedMin_dB; // of that weighting, since the start or reset
    bool hold = false;                                                 // the numbers stand still, and that is said

    std::optional<SpectrumReading> spectrum; // absent while no one looks at it

    bool audioRuns = false; // blocks arrived within the last second
    bool offline = false;   // the host renders faster than real time
    bool simulated = false; // the bench is the simulated one: said wherever a number shows
    OnCoupler onSimulatedCoupler;
    bool loopMuted = false; // a loop was muted
    PassInput passInput = PassInput::guarded;
    std::int64_t lostEstimates = 0; // the ring was full so many times
    std::string stateNotice;        // a session that could not be opened, in a sentence

    std::optional<Reading> second; // of a second coupler's microphone, when the second channel is one
    double sampleRate_Hz = 0.0;    // 0: not known yet
    std::uint64_t revision = 0;    // another number whenever anything above may have changed
};

// What a screen may ask for; the plugin does it, and the next view shows it.
class Controls
{
public:
    virtual ~Controls() = default;
    virtual void chooseCouplerSlot(int slot) = 0;    // 0 to 16
    virtual void chooseEarphoneSlot(int slot) = 0;   // 0 to 32
    virtual void chooseSide(const std::string&) = 0; // "left", "right", ""
    virtual void setDrive(std::optional<Volts>) = 0; // typed; absent: none
    virtual void setWeighting(FrequencyWeighting) = 0;
    virtual void setTimeWeighting(TimeWeighting) = 0;
    virtual void setHold(bool) = 0;
    virtual void resetExtremes() = 0;
    virtual void unmuteLoop() = 0;       // after the loop was broken
    virtual void showSpectrum(bool) = 0; // it is worked out only while somebody looks
    virtual void simulate(bool on, const OnCoupler&) = 0;
};

} // namespace couplet
