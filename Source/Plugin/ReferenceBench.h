// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveBench.h"
#include "Plugin/ReferenceView.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

// Purpose: takes references on the message thread from the microphone's estimates, for the coupler that the live bench
//          has chosen, and has them kept. From start to end the coupler stands; a bench that is switched between real
//          and simulated, or to another channel, ends the capture. What it came to is told for as long as that coupler
//          and bench are chosen and the reference concerned is in force. One that moved beyond the usual limits waits
//          for a word, and is not kept before.
// Units:   as ReferenceView.
// Errors:  one sentence each, in the view.
// Thread:  message.
namespace couplet {

class ReferenceBench
{
public:
    using Change = std::function<Outcome<Done>(Coupler&)>;
    // Makes a change to the coupler of this name wherever it is kept. A fault: it could not be made everywhere.
    using Store = std::function<Outcome<Done>(const std::string& coupler, bool simulated, const Change&)>;

    ReferenceBench(const LiveBench& bench, Store keep) : live(bench), store(std::move(keep)) {}

    void know(std::vector<Calibrator>); // of the library
    void add(const Heard&);
    // After the estimates of a tick: keeps what is complete.
    void settle();
    bool captures() const { return capture.runs(); }
    void update();
    const ReferenceView& view() const { return shown; }

    void chooseCalibrator(const std::string& name);
    void chooseLevel(std::optional<double> level_dB);
    void setPressure(std::optional<Kilopascals> p) { pressure = p; }
    void setSeatings(int count);
    void setJudged(const JudgedTerms&);
    void start(CaptureKind, bool handsFree);
    void cancel();
    void finish();
    void keepMoved();
    void undo();
    void setAside(std::size_t index, const std::string& reason);

private:
    // What the results that are told belong to.
    struct Place
    {
        std::string coupler; // empty: none
        bool simulated = false;
        int channel = 1;

        bool operator==(const Place&) const = default;
    };
    static constexpr const char* simulatedSource = "simulated bench";

    const Coupler* coupler() const;
    bool simulated() const;
    std::optional<Calibrator> calibrator() const;
    std::optional<ReferenceSetup> setupNow(std::string& why) const;
    void change(const Change&);
    static void giveReason(Coupler&, const Reference&, const std::string& reason);
    void changeOne(const Reference&, const std::string& reason);
    void keepReference(const ReferenceOutcome&);
    void conclude();
    void endIfBenchChanged();
    Place placeNow() const;
    bool keptHere() const; // the reference just taken, on what is chosen now
    void forgetResults();
    void forgetUntrueOf(const Coupler&);
    void forgetWhatPassed();
    std::optional<ReferenceOutcome> outcomeNow(std::string& why) const;
    void showChosen();
    void showSum(const std::optional<ReferenceOutcome>& outcome);
    void showTone(const std::optional<ReferenceOutcome>& outcome);
    void showCapture();
    void showHistory();

    const LiveBench& live;
    Store store;
    ReferenceCapture capture;
    std::uint32_t stream = 0;
    std::vector<Calibrator> calibrators;
    std::string calibratorName; // chosen by hand
    std::optional<double> level_dB;
    std::optional<Kilopascals> pressure;
    int seatings = seatingsOffered;

    bool boundSimulated = false;
    int boundChannel = 1;
    bool settled = true;    // what the capture ended with was dealt with
    bool endIsPast = false; // what the capture ended with is not told any more
    std::optional<Place> place;
    std::string refusal; // of what was asked for last
    std::optional<ToneSummary> secondLevel;
    std::string secondLevelOf; // calibrator
    std::optional<QuickCheck> lastCheck;
    std::optional<Reference> checkedAgainst;
    std::optional<Reference> justKept;
    std::string keptFor; // coupler
    std::optional<ReferenceOutcome> keptOutcome;
    std::optional<ReferenceOutcome> waiting; // moved beyond the usual limits: for a word
    std::optional<Coupler> historyFor;
    int updatesSinceHistory = 0;
    ReferenceView shown;
};

} // namespace couplet
