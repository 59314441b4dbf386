// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/Offset.h"
#include "Plugin/ReferenceRig.h"

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

// Purpose: a processor with a library of the scenario's calibrator and earphones, whose real input hears a calibrator or
//          an earphone as loud as a test wants it, and the waiting that a worker needs.
// Thread:  message, which plays the audio thread too.
namespace couplet::tests {

struct FitLibrary : LibraryHere
{
    FitLibrary()
    {
        for (std::size_t i = 0; i < demoScenario().earphones.size(); ++i) {
            auto earphone = earphoneOnPaper(demoScenario(), i);
            earphone.simulated = false;
            earphone.choseCorrectionOf.clear();
            REQUIRE(folder.save(earphone));
        }
        REQUIRE(folder.save(uncorrected()));
    }
    static Coupler uncorrected()
    {
        auto coupler = plainCoupler("left bench");
        coupler.correction.reset();
        return coupler;
    }
};

// A coupler with a reference that took 1.36 dB off, as the scenario's would.
inline Coupler withReference(Coupler coupler)
{
    ReferenceInput input;
    input.certifiedLevel_dB = 114.02;
    input.certificateU_dB = 0.15;
    input.correction = couplerOnPaper(demoScenario()).correction;
    input.tone_dBFS = -9.31;
    input.frequency = Hertz(1000.0);
    const auto offset = offsetFrom(input);
    REQUIRE(offset);
    Reference reference;
    reference.takenAt = timeNow();
    reference.offset_dB = offset->level_dB;
    reference.addends = offset->addends;
    reference.budget = offset->budget;
    reference.calibrator = "bench calibrator";
    reference.tone_dBFS = -9.31;
    reference.frequency = Hertz(1000.0);
    reference.sampleRate_Hz = 48000.0;
    coupler.references.push_back(reference);
    return coupler;
}

struct FitRig
{
    FitLibrary library;
    Rig rig;
    Processor& processor = *rig.processor;
    SimulatedBench sound{demoScenario(), 48000.0, 3};

    explicit FitRig(const Coupler& coupler = FitLibrary::uncorrected())
    {
        processor.putInSlot(1, coupler);
        processor.chooseCouplerSlot(1);
        rig.settle();
    }
    const FitView& view()
    {
        rig.settle();
        return processor.fitView();
    }
    void put(OnCoupler::What what, std::size_t earphone = 0)
    {
        OnCoupler on;
        on.what = what;
        on.earphone = earphone;
        REQUIRE(sound.put(on));
    }
    using Change = std::function<double(double sample, double seconds)>;
    bool play(double most_s, const Change& change = {}, const std::function<bool()>& enough = {})
    {
        juce::AudioBuffer<float> buffer(2, 480);
        juce::MidiBuffer midi;
        double t = 0.0;
        for (int blocks = static_cast<int>(most_s * 100.0); blocks > 0; --blocks) {
            sound.render({buffer.getWritePointer(0), 480}, {buffer.getWritePointer(1), 480});
            for (int i = 0; i < 480; ++i, t += 1.0 / 48000.0)
                if (change)
                    buffer.setSample(0, i, static_cast<float>(change(buffer.getSample(0, i), t)));
            processor.processBlock(buffer, midi);
            processor.tick();
            if (enough && enough())
                return true;
        }
        return !enough;
    }
    bool until(FitCaptureState wanted, double most_s, const Change& change = {})
    {
        const bool reached = play(most_s, change, [&] { return processor.fitView().capture == wanted; });
        INFO(processor.fitView().captureNotice << " / " << processor.fitView().notice);
        CHECK(reached);
        return reached;
    }
    // One reading, this much louder than through the coupler, and lifted again.
    bool readOne(double louder_dB, OnCoupler::What what = OnCoupler::What::calibrator)
    {
        put(what);
        const bool read =
            until(FitCaptureState::lift, 8.0, [gain = ratioFrom_dB(louder_dB)](double x, double) { return gain * x; });
        put(OnCoupler::What::nothing);
        play(1.5);
        return read;
    }
    // What is worked on elsewhere, for at most so long.
    bool wait(const std::function<bool(const FitView&)>& holds, double most_s = 60.0) // patience: sanitizers are slow
    {
        const auto end = juce::Time::getMillisecondCounterHiRes() + 1e3 * most_s;
        while (juce::Time::getMillisecondCounterHiRes() < end) {
            if (holds(view()))
                return true;
            juce::Thread::sleep(2);
        }
        return false;
    }
    bool fitted()
    {
        return wait([](const FitView& v) { return !v.working; });
    }
    void fill(const std::string& table)
    {
        processor.pasteFitTable("kind,name,level_db,expected_db,tolerance_db,expanded_uncertainty_db\n" + table);
        CHECK(view().notice.empty());
        REQUIRE(fitted());
    }
    std::string state()
    {
        juce::MemoryBlock block;
        processor.getStateInformation(block);
        return block.toString().toStdString();
    }
    void restore(const std::string& text)
    {
        processor.setStateInformation(text.data(), static_cast<int>(text.size()));
        rig.settle();
    }
    Coupler inLibrary() const
    {
        const auto coupler = library.folder.coupler("left bench");
        REQUIRE(coupler);
        return *coupler;
    }
    std::vector<std::string> marksOf(const std::string& earphone) const
    {
        const auto found = library.folder.earphone(earphone);
        REQUIRE(found);
        return found->choseCorrectionOf;
    }
};

inline const std::string collarTable = "direct,collar,114.65\ndirect,collar,114.69\ndirect,collar,114.72\n"
                                       "direct,collar,114.78\nthrough,,113.26\nthrough,,113.30\nthrough,,113.34\n";
inline const std::string phonesTable = "earphone,earphone P,96.18,94.60,0.8,0.24\n"
                                       "earphone,earphone Q,93.62,92.40,1.0,0.24\n"
                                       "aside,earphone R,96.0,94.6,1.0,0.24\n";

} // namespace couplet::tests
