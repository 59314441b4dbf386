// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Session.h"
#include "Plugin/AudioHalf.h"
#include "Plugin/FitBench.h"
#include "Plugin/LibraryDesk.h"
#include "Plugin/LiveBench.h"
#include "Plugin/LiveFile.h"
#include "Plugin/LiveSpectrum.h"
#include "Plugin/LiveView.h"
#include "Plugin/LoopGuard.h"
#include "Plugin/Parameters.h"
#include "Plugin/ReferenceBench.h"
#include "Plugin/Standby.h"
#include "Plugin/Ticker.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <atomic>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

// Purpose: the meter in a host's chain. Audio goes through unchanged, bit for bit and without delay, but for what the loop
//          guard does to it (LoopGuard.h) or as the parameter 'Pass the input on' says; in the standalone nothing goes
//          through at all.
// Shapes:  mono or stereo, in as out; LV2 is stereo. One reading every 50 ms, whether an editor is open or not.
// Errors:  a state that cannot be opened is handed back as it came, and a sentence says so in the view.
// Thread:  each function says; state calls may come on any thread while audio runs. No lock is ever taken on the audio
//          thread but JUCE's own around it.
namespace couplet {

class Processor final : public juce::AudioProcessor, public Controls, public ReferenceControls, public FitControls
{
public:
    // Screens lie above the plugin: whoever makes the processor hands it their editor. Null: JUCE's plain list of
    // parameters.
    using EditorFactory = juce::AudioProcessorEditor* (*)(Processor&);
    explicit Processor(EditorFactory = nullptr);
    ~Processor() override;

    // message: what a screen draws, anew some twenty times a second.
    const LiveView& view() const { return bench.view(); }
    const ReferenceView& referenceView();
    const FitView& fitView();

    // any but audio: a coupler or an earphone from beyond the slots; absent: none.
    void chooseCouplerByHand(std::optional<Coupler>);
    void chooseEarphoneByHand(std::optional<Earphone>);
    void putInSlot(int slot, std::optional<Coupler>);                      // 1 to 16
    void putInSlot(int slot, std::optional<Earphone>);                     // 1 to 32
    void renameFitCoupler(const std::string& from, const std::string& to); // message: whose readings they are
    Session sessionNow() const;
    std::uint64_t sessionRevisionNow() const; // another number whenever the session has changed

    // message: the couplers that can be chosen, and all that is done with them.
    LibraryDesk& library() { return desk; }

    // message: from the start to the end of a capture the coupler stands; a switch waits.
    void capture(bool runs) { bench.capture(runs); }

    // message: what the timer does.
    void tick();

    // Controls: message.
    void chooseCouplerSlot(int slot) override;
    void chooseEarphoneSlot(int slot) override;
    void chooseSide(const std::string&) override;
    void setDrive(std::optional<Volts>) override;
    void setWeighting(FrequencyWeighting) override;
    void setTimeWeighting(TimeWeighting) override;
    void setHold(bool) override;
    void resetExtremes() override { audio.restartLevels(); }
    void unmuteLoop() override { loopGuard.unmute(); }
    void showSpectrum(bool on) override { spectrumWanted = on; }
    void simulate(bool on, const OnCoupler&) override;

    // ReferenceControls: message.
    void chooseCalibrator(const std::string& name) override;
    void chooseCalibratorLevel(std::optional<double> level_dB) override;
    void setPressure(std::optional<Kilopascals>) override;
    void setSeatings(int count) override;
    void setJudgedTerms(const JudgedTerms&) override;
    void takeReference() override;
    void takeReferenceHandsFree() override;
    void hearSecondLevel() override;
    void checkReference() override;
    void cancelReference() override;
    void finishSeatings() override;
    void keepMovedReference() override;
    void undoReference() override;
    void setReferenceAside(std::size_t index, const std::string& reason) override;
    void putReferenceBack(std::size_t index) override;

    // FitControls: message.
    void chooseFitCalibrator(const std::string& name) override;
    void setMicrophoneBuiltIn(bool) override;
    std::string setFitUncertainties(double u_transfer_dB, double u_adapter_dB) override;
    std::string addFitting(const std::string& name) override;
    std::string renameFitting(std::size_t index, const std::string& name) override;
    void removeFitting(std::size_t index) override;
    void chooseFitTarget(const FitTarget&) override;
    void nextFitTarget() override;
    std::string addFitReading(const FitTarget&, double level_dB) override;
    std::string changeFitReading(const FitTarget&, std::size_t reading, double level_dB) override;
    std::string setFitReadingAside(const FitTarget&, std::size_t reading, const std::string& reason) override;
    std::string addFitEarphone(const FitEarphone&) override;
    void addFitEarphone(const std::string& nameInLibrary) override;
    std::string changeFitEarphone(std::size_t index, const FitEarphone&) override;
    void removeFitEarphone(std::size_t index) override;
    void keepFitEarphoneAside(std::size_t index, bool) override;
    std::string setFitEarphoneAside(std::size_t index, const std::string& reason) override;
    void readFitTable(const std::filesystem::path&) override;
    void pasteFitTable(const std::string& text) override;
    void clearFit() override;
    void captureFitReadings(bool on) override;
    void takeFitReading() override;
    void askWhatIf(std::optional<double> wantedU_dB) override;
    void useCorrection() override;
    void useNoCorrection() override;
    void fillFitFromSimulation() override;
    void undoFit() override;

    Parameters parameters{*this};

    // juce::AudioProcessor
    void prepareToPlay(double sampleRate_Hz, int largestBlock) override;
    void releaseResources() override {}
    void processBlock(juce::AudioBuffer<float>&, juce::MidiBuffer&) override;
    using juce::AudioProcessor::processBlock;
    // There is nothing to bypass: it goes on measuring, and what the guard is for goes on as well.
    void processBlockBypassed(juce::AudioBuffer<float>& buffer, juce::MidiBuffer& midi) override
    {
        processBlock(buffer, midi);
    }
    using juce::AudioProcessor::processBlockBypassed;
    bool isBusesLayoutSupported(const BusesLayout&) const override;
    juce::AudioProcessorEditor* createEditor() override;
    bool hasEditor() const override { return true; }
    const juce::String getName() const override { return "Couplet"; }
    bool acceptsMidi() const override { return false; }
    bool producesMidi() const override { return false; }
    double getTailLengthSeconds() const override { return 0.0; }
    // None; JUCE makes an LV2 preset of each, while other formats want one at least.
    int getNumPrograms() override { return wrapperType == wrapperType_LV2 ? 0 : 1; }
    int getCurrentProgram() override { return 0; }
    void setCurrentProgram(int) override {}
    const juce::String getProgramName(int) override { return {}; }
    void changeProgramName(int, const juce::String&) override {}
    void getStateInformation(juce::MemoryBlock&) override;
    void setStateInformation(const void* data, int size) override;

private:
    template <class Change> void changeSession(Change&&);
    AudioFacts factsNow(double now_s);
    void drainRings();
    void followSpectrum(const AudioFacts&);
    void chooseWhatChanged(const AudioFacts&);
    void writeLiveFile(double now_s);
    Outcome<Done> changeCoupler(const std::string& name, bool simulated, const ReferenceBench::Change&);
    void knowLibrary(const Folder::Listing&);
    void followLibrary();
    void passOn(juce::AudioBuffer<float>&, int inputs) noexcept;
    void startCapture(CaptureKind, bool handsFree);
    void bindCoupler();
    void showReference();
    void keepFit(const FitSheet&);
    void useFit(const FitUse&);
    void useOnSimulatedBench(FitUsed);
    void showFit();
    std::string refusalShown();

    EditorFactory makeEditor;
    AudioHalf audio;
    LoopGuard loopGuard;
    LiveSpectrum spectrum; // message
    std::atomic<bool> rendersOffline{false};

    mutable std::mutex sessionMutex; // of the next four; never taken on the audio thread
    Session session;
    std::optional<std::string> keptState; // one that could not be opened, as it came
    std::string stateNotice;
    std::uint64_t sessionRevision = 1;

    // message thread only
    LibraryDesk desk{*this};
    LiveBench bench;
    ReferenceBench reference{bench, [this](const std::string& name, bool simulated, const auto& change) {
                                 return changeCoupler(name, simulated, change);
                             }};
    FitBench fit{bench,
                 {[this](const FitSheet& sheet) { keepFit(sheet); }, [this](const FitUse& use) { useFit(use); }}};
    LibraryKeeper::Listing knownLibrary;
    Standby standby{audio};
    std::unique_ptr<LiveFile> liveFile;
    std::string liveNotice, lastWritten;
    double nextWriting_s = -1e9;
    BenchSettings lastSettings;
    AudioFacts lastFacts;
    std::uint64_t lastSessionRevision = 0;
    std::int64_t lastBlocks = 0;
    double lastBlock_s = -1e9;
    int ticks = 0;
    bool spectrumWanted = false;
    bool referenceDue = true, fitDue = true; // their views are made when somebody looks at them
    bool hasNews = false, lastCaptures = false, boundToReference = false;

    std::unique_ptr<Ticker> ticker; // last: it ends before anything that it uses
};

template <class Change> void Processor::changeSession(Change&& change)
{
    {
        const std::lock_guard lock(sessionMutex);
        change(session);
        ++sessionRevision;
    }
    updateHostDisplay(ChangeDetails().withNonParameterStateChanged(true));
}

} // namespace couplet
