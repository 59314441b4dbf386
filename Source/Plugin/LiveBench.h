// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/LiveTone.h"
#include "Bench/Session.h"
#include "Bench/Setup.h"
#include "Plugin/Settings.h"
#include "Signal/SpectrumMeter.h"

#include <memory>
#include <optional>
#include <string>

// Purpose: the message thread's half: estimates and what is chosen of the session -> the reading and all that a screen
//          shows. A coupler that is chosen while a capture runs waits for its end, and that is said.
// Units:   dB SPL, or dBFS while the coupler has no reference; times in s of any steady clock.
// Thread:  message.
namespace couplet {

// What is known of the audio besides its estimates.
struct AudioFacts
{
    double sampleRate_Hz = 0.0; // 0: not known yet
    bool measures = false;      // the rate is one that can be measured at
    int channels = 0;
    bool runs = false; // blocks arrived within the last second
    bool offline = false;
    bool loopMuted = false;
    std::int64_t lost = 0;

    bool operator==(const AudioFacts&) const = default;
};

class LiveBench
{
public:
    void add(const Heard&);       // of the microphone
    void addSecond(const Heard&); // of a second coupler's microphone

    // What is known of the microphone's spectrum while somebody looks; null: nothing yet. True when that is news.
    bool look(bool wanted, std::shared_ptr<const SpectrumResult>);

    // To be called when the session or a setting has changed.
    void choose(const Session&, const BenchSettings&);
    void know(const AudioFacts& f) { facts = f; }
    void say(std::string stateNotice) { shown.stateNotice = std::move(stateNotice); }
    // A capture is bound to its coupler from start to end.
    void capture(bool runs) { captureRuns = runs; }
    bool captures() const { return captureRuns; }

    // The coupler in force, while a capture runs the one it is bound to, and the settings that go with it.
    const Setup& chosen() const { return setup; }
    const BenchSettings& chosenSettings() const { return settings; }
    const AudioFacts& audio() const { return facts; }
    // The simulated bench's coupler after a reference was taken on it: kept as long as the bench stays as it is.
    void keepSimulated(const Coupler&);

    void update(double now_s);
    const LiveView& view() const { return shown; }

private:
    void take(const Session&, const BenchSettings&);
    void takeSimulated();
    void refreshSimulatedCoupler();
    std::optional<Drive> chosenDrive() const;
    ToneSummary summaryOf(const LiveTone&, int channel) const;
    std::string whyNothing(int channel) const;
    void showLevels();
    void showSpectrum();
    void showReference();
    void showTexts();
    void showTrend(double now_s, const Reading&);

    BenchSettings settings;
    AudioFacts facts;
    Setup setup, secondSetup;
    Coupler simulatedCoupler; // empty until it was needed
    double simulatedCouplerRate_Hz = 0.0;
    LiveTone tone, secondTone;
    std::uint32_t stream = 0, secondStream = 0;
    std::optional<Estimate> latest;
    std::shared_ptr<const SpectrumResult> spectrum;
    bool spectrumWanted = false, spectrumDue = false;
    std::string whyNoSpectrum;
    bool captureRuns = false;
    std::optional<double> lastTrend_s;
    std::string trendOf; // coupler and unit that the trend is drawn in
    LiveView shown;
};

} // namespace couplet
