// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/SimulatedPapers.h"
#include "Library/Scratch.h"
#include "Plugin/Rig.h"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <functional>
#include <string>

// Purpose: a processor with a library of its own and the scenario's calibrator on its real input, to take references
//          with as fast as they can be played.
// Thread:  message, which plays the audio thread too.
namespace couplet::tests {

inline constexpr double trueOffset_dB = 121.97;

// A library of its own with the bench's calibrator, while this lives.
struct LibraryHere
{
    Scratch scratch;
    const char* inherited = std::getenv("COUPLET_LIBRARY");
    std::string before = inherited != nullptr ? inherited : "";
    Folder folder{scratch.path};

    LibraryHere()
    {
        auto calibrator = calibratorOnPaper(demoScenario());
        calibrator.simulated = false;
        REQUIRE(folder.save(calibrator));
        ::setenv("COUPLET_LIBRARY", scratch.path.c_str(), 1);
    }
    ~LibraryHere()
    {
        if (inherited != nullptr)
            ::setenv("COUPLET_LIBRARY", before.c_str(), 1);
        else
            ::unsetenv("COUPLET_LIBRARY");
    }
};

inline Coupler plainCoupler(const std::string& name)
{
    Coupler coupler = couplerOnPaper(demoScenario());
    coupler.name = name;
    coupler.slot = 0;
    coupler.simulated = false;
    return coupler;
}

// The scenario's calibrator on the real input, as fast as it can be played.
class Played
{
public:
    explicit Played(Processor& p) : processor(p), bench(demoScenario(), 48000.0, 3) {}

    void seat() { REQUIRE(bench.put({OnCoupler::What::calibrator})); }
    void lift() { REQUIRE(bench.put({})); }
    // Blocks of both channels until `enough`, at most so long.
    bool play(double most_s, const std::function<bool()>& enough = {})
    {
        juce::AudioBuffer<float> buffer(2, 480);
        juce::MidiBuffer midi;
        for (int blocks = static_cast<int>(most_s * 100.0); blocks > 0; --blocks) {
            bench.render({buffer.getWritePointer(0), 480}, {buffer.getWritePointer(1), 480});
            processor.processBlock(buffer, midi);
            processor.tick();
            if (enough && enough())
                return true;
        }
        return !enough;
    }

private:
    Processor& processor;
    SimulatedBench bench;
};

struct Taking
{
    LibraryHere library;
    Rig rig;
    Processor& processor = *rig.processor;
    Played played{processor};

    explicit Taking(bool inLibrary = true)
    {
        if (inLibrary)
            REQUIRE(library.folder.save(plainCoupler("left bench")));
        processor.putInSlot(1, plainCoupler("left bench"));
        processor.chooseCouplerSlot(1);
        rig.settle();
    }
    const ReferenceView& view()
    {
        rig.settle();
        return processor.referenceView();
    }
    bool until(CaptureState wanted, double most_s)
    {
        const bool reached = played.play(most_s, [&] { return processor.referenceView().state == wanted; });
        INFO(processor.referenceView().notice);
        CHECK(reached);
        return reached;
    }
    Coupler inLibrary() const
    {
        const auto coupler = library.folder.coupler("left bench");
        REQUIRE(coupler);
        return *coupler;
    }
    Coupler inSession() const { return *processor.sessionNow().couplers[1]; }
};

} // namespace couplet::tests
