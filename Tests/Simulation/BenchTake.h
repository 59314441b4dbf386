// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Simulation/SimulatedBench.h"

#include <cstddef>
#include <vector>

// Purpose: stretches of the simulated bench as the tests of this room want them.
namespace couplet::test {

inline constexpr double rate_Hz = 48000.0;

struct Take
{
    std::vector<float> microphone, drive;
};

inline std::size_t samplesOf(double seconds, double sampleRate_Hz = rate_Hz)
{
    return static_cast<std::size_t>(seconds * sampleRate_Hz);
}

inline Take rendered(SimulatedBench& bench, double seconds, double sampleRate_Hz = rate_Hz)
{
    const auto frames = samplesOf(seconds, sampleRate_Hz);
    Take take{std::vector<float>(frames), std::vector<float>(frames)};
    bench.render(take.microphone, take.drive);
    return take;
}

// The stretch after every fade has ended.
inline Take settledTake(const Scenario& scenario, const OnCoupler& on, double seconds, double sampleRate_Hz = rate_Hz)
{
    SimulatedBench bench(scenario, sampleRate_Hz, 7);
    if (!bench.put(on))
        return {};
    rendered(bench, 1.5, sampleRate_Hz);
    return rendered(bench, seconds, sampleRate_Hz);
}

inline OnCoupler calibratorOn()
{
    return {.what = OnCoupler::What::calibrator};
}
inline OnCoupler earphoneOn(std::size_t index, Side side = Side::left, std::optional<Volts> drive = {})
{
    return {.what = OnCoupler::What::earphone, .earphone = index, .side = side, .drive = drive};
}

} // namespace couplet::test
