// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceTaking.h"
#include "Bench/SimulatedPapers.h"
#include "Signal/Analyser.h"
#include "Simulation/SimulatedBench.h"

#include <cstddef>
#include <functional>
#include <vector>

// Purpose: the simulated bench's calibrator as a live stream of estimates: knocked, slipped, lifted and changed sample
//          by sample as a test wants it.
// Thread:  any.
namespace couplet::tests {

inline constexpr double calibratorTruth_dBFS = 114.02 - 1.36 - 121.97;

class LiveCalibrator
{
public:
    using Change = std::function<double(double sample, double seconds)>;

    explicit LiveCalibrator(std::function<void(const Estimate&)> to, double sampleRate_Hz = 48000.0,
                            const Scenario& scenario = demoScenario())
        : hear(std::move(to)), rate(sampleRate_Hz), bench(scenario, sampleRate_Hz, 11), analyser(sampleRate_Hz)
    {
    }

    bool seat() { return bench.put({OnCoupler::What::calibrator}); }
    bool lift() { return bench.put({}); }

    // Goes on until `enough` holds, at most so long; `change` counts its seconds from here.
    void play(double seconds, const Change& change = {}, const std::function<bool()>& enough = {})
    {
        std::vector<float> block(480);
        double t = 0.0;
        for (auto blocks = static_cast<int>(seconds * rate / 480.0); blocks > 0; --blocks) {
            bench.render(block, {});
            for (float& x : block) {
                if (change)
                    x = static_cast<float>(change(x, t));
                t += 1.0 / rate;
            }
            analyser.add(block.data(), nullptr, 480, hear);
            if (enough && enough())
                return;
        }
    }

private:
    std::function<void(const Estimate&)> hear;
    double rate;
    SimulatedBench bench;
    Analyser analyser;
};

// The simulated bench's papers, as a reference needs them.
inline ReferenceSetup setupOnPaper()
{
    ReferenceSetup setup;
    setup.coupler = couplerOnPaper(demoScenario());
    setup.calibrator = calibratorOnPaper(demoScenario());
    setup.now = "2026-05-03T12:00:00Z";
    setup.source = "simulated bench";
    return setup;
}

} // namespace couplet::tests
