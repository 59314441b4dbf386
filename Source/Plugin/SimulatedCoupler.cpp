// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/SimulatedCoupler.h"

#include "Bench/ReferenceTaking.h"
#include "Bench/SimulatedPapers.h"
#include "Bench/StretchFinder.h"
#include "Signal/Analyser.h"
#include "Simulation/SimulatedBench.h"

#include <array>

namespace couplet {
namespace {

constexpr std::uint64_t seed = 2;
// The stretch that a reference needs, and what passes before a tone is believed.
constexpr double take_s = shortestReference_s + 2.0;

ToneSummary calibratorHeard(const Scenario& scenario, double sampleRate_Hz)
{
    SimulatedBench bench(scenario, sampleRate_Hz, seed);
    if (!bench.put(OnCoupler{OnCoupler::What::calibrator}))
        return {};
    Analyser analyser(sampleRate_Hz);
    StretchFinder stretch;
    std::array<float, 512> block{};
    while (!bench.settled())
        bench.render(block, {});
    const auto blocks = static_cast<int>(take_s * sampleRate_Hz / static_cast<double>(block.size()));
    for (int i = 0; i < blocks; ++i) {
        bench.render(block, {});
        analyser.add(block.data(), nullptr, static_cast<int>(block.size()), [&](const Estimate& e) { stretch.add(e); });
    }
    return stretch.summary();
}

} // namespace

Coupler referencedOnPaper(const Scenario& scenario, double sampleRate_Hz)
{
    ReferenceSetup setup;
    setup.coupler = couplerOnPaper(scenario);
    setup.calibrator = calibratorOnPaper(scenario);
    setup.now = timeNow();
    setup.source = "simulated bench";
    Coupler coupler = setup.coupler;
    const auto taken = takeReference(calibratorHeard(scenario, sampleRate_Hz), setup);
    if (taken && taken->fitToUse && taken->offset)
        coupler.references.push_back(taken->kept(setup));
    return coupler;
}

} // namespace couplet
