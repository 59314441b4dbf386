// SPDX-License-Identifier: GPL-3.0-or-later
#include "Simulation/AllocationCount.h"
#include "Simulation/BenchTake.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace couplet;
using namespace couplet::test;

namespace {

const Scenario scenario = demoScenario();

// Calibrator from the start, earphone S from 1.2 s on, its drive halved at 2.6 s; each stretch cut into the
// given sizes.
Take cutInto(const std::vector<std::size_t>& sizes, std::uint64_t seed)
{
    SimulatedBench bench(scenario, rate_Hz, seed);
    Take take;
    std::size_t turn = 0;
    const auto renderUntil = [&](double end_s) {
        const auto end = samplesOf(end_s);
        while (take.microphone.size() < end) {
            const auto at = take.microphone.size();
            const auto frames = std::min(sizes[turn++ % sizes.size()], end - at);
            take.microphone.resize(at + frames);
            take.drive.resize(at + frames);
            bench.render({take.microphone.data() + at, frames}, {take.drive.data() + at, frames});
        }
    };
    REQUIRE(bench.put(calibratorOn()));
    renderUntil(1.2);
    REQUIRE(bench.put(earphoneOn(3)));
    renderUntil(2.6);
    REQUIRE(bench.put(earphoneOn(3, Side::left, Volts(0.0616))));
    renderUntil(3.5);
    return take;
}

// Largest third difference: what a click makes, and a fade of a tone does not.
double roughness(const std::vector<float>& v)
{
    double largest = 0.0;
    for (std::size_t n = 3; n < v.size(); ++n)
        largest = std::max(largest, std::abs(static_cast<double>(v[n]) - 3.0 * v[n - 1] + 3.0 * v[n - 2] - v[n - 3]));
    return largest;
}

} // namespace

TEST_CASE("the bench's samples do not depend on how the stream is cut")
{
    const auto whole = cutInto({1000000}, 11);
    for (const auto& sizes : std::vector<std::vector<std::size_t>>{{1}, {17}, {512}, {4096, 3, 64, 1, 480}}) {
        const auto cut = cutInto(sizes, 11);
        CHECK(cut.microphone == whole.microphone);
        CHECK(cut.drive == whole.drive);
    }
}

TEST_CASE("a seed gives one bench and another seed another")
{
    CHECK(cutInto({512}, 11).microphone == cutInto({512}, 11).microphone);
    CHECK(cutInto({512}, 11).microphone != cutInto({512}, 12).microphone);
}

TEST_CASE("the microphone's samples are the same when nobody asks for the drive")
{
    SimulatedBench with(scenario, rate_Hz, 5), without(scenario, rate_Hz, 5);
    REQUIRE(with.put(earphoneOn(1)));
    REQUIRE(without.put(earphoneOn(1)));
    const auto take = rendered(with, 1.0);
    std::vector<float> microphone(take.microphone.size());
    without.render(microphone, {});
    CHECK(microphone == take.microphone);
}

TEST_CASE("a change on the coupler makes no click")
{
    const double steady = std::max(roughness(settledTake(scenario, calibratorOn(), 1.0).microphone),
                                   roughness(settledTake(scenario, earphoneOn(3), 1.0).microphone));
    CHECK(roughness(cutInto({512}, 11).microphone) < 1.05 * steady);
}

TEST_CASE("the bench says when its fades have ended")
{
    SimulatedBench bench(scenario, rate_Hz, 1);
    CHECK(bench.settled());
    REQUIRE(bench.put(calibratorOn()));
    CHECK_FALSE(bench.settled());
    rendered(bench, 0.99);
    CHECK_FALSE(bench.settled());
    rendered(bench, 0.02);
    CHECK(bench.settled());
}

TEST_CASE("what cannot be put on the coupler is refused and changes nothing")
{
    SimulatedBench bench(scenario, rate_Hz, 1);
    CHECK_FALSE(bench.put(earphoneOn(scenario.earphones.size())));
    CHECK_FALSE(bench.put(earphoneOn(0, Side::left, Volts(-0.1))));
    CHECK_FALSE(bench.put(earphoneOn(0, Side::left, Volts(std::numeric_limits<double>::infinity()))));
    CHECK_FALSE(bench.put(earphoneOn(0, Side::left, Volts(std::numeric_limits<double>::quiet_NaN()))));
    CHECK(bench.settled());
}

TEST_CASE("an overdriven input clips at full scale")
{
    const auto take = settledTake(scenario, earphoneOn(2, Side::left, Volts(3.0)), 0.2);
    CHECK(*std::max_element(take.microphone.begin(), take.microphone.end()) == 1.0f);
    CHECK(*std::min_element(take.microphone.begin(), take.microphone.end()) == -1.0f);
    CHECK(*std::max_element(take.drive.begin(), take.drive.end()) == 1.0f);
}

TEST_CASE("rendering and changing what is on the coupler allocate nothing")
{
    SimulatedBench bench(scenario, rate_Hz, 1);
    std::vector<float> microphone(4096), drive(4096);
    const auto before = allocationCount();
    bool put = bench.put(calibratorOn());
    for (int block = 0; block < 30; ++block)
        bench.render(microphone, drive);
    put = bench.put(earphoneOn(3, Side::right, Volts(0.05))) && put;
    for (int block = 0; block < 30; ++block)
        bench.render(microphone, drive);
    const auto after = allocationCount();
    CHECK(put);
    CHECK(after == before);

    const auto counted = allocationCount();
    microphone.resize(10000);
    CHECK(allocationCount() > counted); // the counter counts
}
