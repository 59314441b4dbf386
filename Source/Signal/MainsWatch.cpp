// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/MainsWatch.h"

namespace couplet {
namespace {

constexpr int fewestHops = 8; // 0.4 s parts 50 from 60 Hz by four times 1/T
constexpr int mostHops = 20;
constexpr int hopsBetweenLooks = 4;
constexpr int winsNeeded = 2;

// The rival must take out this many noise variances more than the believed family, and this many times as much. Three
// orders are six unknowns: in white noise the first happens once in some 10^7 looks (chi-squared, six degrees of
// freedom); the second holds in the coloured noise of rooms, whose low lines all stand above the mean.
constexpr double clearWin = 40.0;
constexpr double clearRatio = 10.0;

constexpr std::array lookedAt{MainsLines::none, MainsLines::believed, MainsLines::other};

} // namespace

MainsWatch::MainsWatch(int hopSamples) : fit(hopSamples), heard(mostHops, hopSamples), samplesPerHop(hopSamples) {}

void MainsWatch::forget()
{
    heard.clear();
    looking = false;
    wins = hopsUntilLook = 0;
}

void MainsWatch::believe(double mains_Hz)
{
    believed = mains_Hz;
    forget();
}

void MainsWatch::hear(const HopSums& hop)
{
    heard.push(hop);
    if (heard.size() < fewestHops || --hopsUntilLook > 0)
        return;
    hopsUntilLook = hopsBetweenLooks;
    looking = true;
    next = 0;
}

bool MainsWatch::step(const LineTuning& tuning, bool tone)
{
    FitRequest request;
    request.hops = heard.size();
    request.start = tuning;
    request.tone = tone;
    request.mainsLimit = otherMainsOrders;
    request.mains = lookedAt[next];
    const Fit look = fit(heard, request);
    if (!look.valid) {
        looking = false;
        return false;
    }
    left[next] = look.noiseVariance;
    if (++next < lookedAt.size())
        return false;
    looking = false;
    wins = rivalWins(look.samples) ? wins + 1 : 0;
    if (wins < winsNeeded)
        return false;
    believe(other_Hz());
    return true;
}

bool MainsWatch::rivalWins(double samples) const
{
    const double byPresent = (left[0] - left[1]) * samples, byRival = (left[0] - left[2]) * samples;
    return byRival - byPresent > clearWin * left[2] && byRival > clearRatio * byPresent;
}

} // namespace couplet
