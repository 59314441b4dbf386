// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Scatter.h"
#include "Speed/TargetCheck.h"

#include <catch2/catch.hpp>

#include <cmath>

// The target: at most 1.10 times the joint Cramer-Rao bound, and no bias; with two standard errors of the trials.
using namespace couplet;
using namespace couplet::test;

namespace {

void holdAgainstBound(const Cell& cell, int windows)
{
    const Scatter s = scatterOf(cell, windows);
    const double most = targets::level.limit + 2.0 / std::sqrt(2.0 * windows);
    CAPTURE(cell.sampleRate_Hz, cell.tone_Hz, cell.snr_dB, cell.window_s, s.shortened);
    CHECK(s.levelRatio() < most);
    CHECK(s.frequencyRatio() < most);
    CHECK(std::abs(s.levelBias_dB) < s.mostBias_dB());
    CHECK(s.shortened <= windows / 50);
}

} // namespace

TEST_CASE("in 0.1 s the tone's level and frequency scatter as the joint Cramer-Rao bound allows")
{
    for (const double snr_dB : {10.0, 40.0, 80.0})
        for (const double tone_Hz : {20.0, 1000.04, 15000.0})
            holdAgainstBound({0.1, tone_Hz, snr_dB}, 400);
}

TEST_CASE("in 1 s the tone's level and frequency scatter as the joint Cramer-Rao bound allows")
{
    holdAgainstBound({1.0, 500.01, 20.0}, 150);
    holdAgainstBound({1.0, 1000.04, 60.0}, 150);
}

TEST_CASE("at every rate the tone's level and frequency scatter as the joint Cramer-Rao bound allows")
{
    for (const double sampleRate_Hz : {44100.0, 96000.0, 192000.0})
        holdAgainstBound({0.1, 1000.04, 40.0, sampleRate_Hz}, 200);
}

// Trials for 3 %: 600 windows have a standard error of 2.9 %.
TEST_CASE("the tone scatters as the joint Cramer-Rao bound allows over the whole grid", "[.long]")
{
    for (const Cell& cell : wholeGrid())
        holdAgainstBound(cell, 600);
}
