// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ToneAcquisition.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr std::size_t butterfliesAtOnce = 1024; // some 5 us

constexpr int mostRounds = 5;
constexpr double settled_Hz = 0.02;
constexpr double farthestBins = 2.5; // a fit that runs farther from the spectrum's line has found something else
constexpr double lowestTone_Hz = 12.0;

// Beside the mains another line is taken for the tone when it is within 10 dB of it.
constexpr double restShare = 0.1;

// The other family is believed at once when it leaves less than half. Faint hum is left to MainsWatch.
constexpr double clearlyLess = 0.5;

bool standsOut(const Fit& f)
{
    return f.valid && f.amplitude * f.amplitude > 2.0 * f.noiseVariance;
}

LineTuning familiesSwapped(const LineTuning& t)
{
    return {t.tone, t.otherMains, t.mains};
}

} // namespace

ToneAcquisition::ToneAcquisition(double sampleRate_Hz)
    : hz(2.0 * pi / sampleRate_Hz), chunksInHop(chunksPerHop(sampleRate_Hz)), search(sampleRate_Hz),
      replay(chunksInHop), joint(hopLength(sampleRate_Hz))
{
}

void ToneAcquisition::begin(const LineTuning& believed, long end, bool newestOnly)
{
    start = believed;
    endChunk = end;
    onlyNewest = newestOnly;
    loaded = 0;
    triedRest = comparedFamilies = false;
    stage = Stage::loading;
}

ToneAcquisition::Progress ToneAcquisition::step(const SampleRing& raw)
{
    const auto loadSome = [&](auto&& samples) {
        for (int most = chunksAtOnce; most > 0 && loaded < search.chunks(); --most, ++loaded)
            search.load(loaded, samples());
        return loaded == search.chunks();
    };
    const long first = endChunk - search.chunks();
    switch (stage) {
    case Stage::loading:
        if (loadSome([&] {
                std::array<double, chunkLength> samples;
                std::copy_n(raw.chunk(first + loaded), chunkLength, samples.begin());
                return samples;
            }))
            stage = Stage::searching;
        return Progress::working;
    case Stage::searching:
        return search.work(butterfliesAtOnce) ? afterSearch() : Progress::working;
    case Stage::mainsSums:
        if (replay.upTo(raw, endChunk, chunksAtOnce))
            findRest();
        return Progress::working;
    case Stage::loadingRest:
        for (int most = chunksAtOnce; most > 0 && replay.position() < first; --most)
            replay.upTo(raw, first, 1);
        if (replay.position() >= first && loadSome([&] {
                const double fromCentre = (replay.position() < endChunk - chunksInHop ? -0.5 : 0.5) * chunksInHop;
                return replay.rest(raw, moved(mainsAtCentre, start, fromCentre * chunkLength));
            }))
            stage = Stage::searchingRest;
        return Progress::working;
    case Stage::searchingRest:
        return search.work(butterfliesAtOnce) ? afterRest() : Progress::working;
    case Stage::sums:
        return replay.upTo(raw, endChunk, chunksAtOnce) ? refine() : Progress::working;
    case Stage::otherSums:
        return replay.upTo(raw, endChunk, chunksAtOnce) ? compareFamilies() : Progress::working;
    case Stage::idle:
        break;
    }
    return Progress::nothing;
}

ToneAcquisition::Progress ToneAcquisition::afterSearch()
{
    plain = search.strongest();
    if (plain.nearMains) {
        // It may be the mains: what both families leave is looked at as well.
        triedRest = true;
        retake(start);
        stage = Stage::mainsSums;
        return Progress::working;
    }
    if (plain.standsOut)
        return startFrom(plain.frequency_Hz);
    stop();
    return Progress::nothing;
}

// Fits both families' first orders alone and sets out to look at what they leave.
void ToneAcquisition::findRest()
{
    FitRequest both = request(2, start);
    both.tone = both.refine = false;
    both.mains = MainsLines::both;
    both.mainsLimit = otherMainsOrders; // a tone on a higher order is as likely a tone
    const Fit mains = joint(replay.whole(), both);
    mainsAtCentre = mains.valid ? mains.atCentre : LineSet{};
    retake(start);
    loaded = 0;
    stage = Stage::loadingRest;
}

ToneAcquisition::Progress ToneAcquisition::afterRest()
{
    const ToneSearch::Line& rest = search.strongest();
    if (rest.standsOut && rest.power > restShare * plain.power)
        return startFrom(rest.frequency_Hz);
    triedRest = false; // nothing to fall back from
    if (plain.standsOut)
        return startFrom(plain.frequency_Hz);
    stop();
    return Progress::nothing;
}

ToneAcquisition::Progress ToneAcquisition::startFrom(double frequency_Hz)
{
    guess_Hz = frequency_Hz;
    tuning = start;
    tuning.tone = frequency_Hz * hz;
    round = 0;
    comparedFamilies = false;
    retake(tuning);
    stage = Stage::sums;
    return Progress::working;
}

void ToneAcquisition::retake(const LineTuning& at)
{
    replay.begin(at, endChunk - 2 * chunksInHop);
}

FitRequest ToneAcquisition::request(int hops, const LineTuning& at) const
{
    FitRequest r;
    r.hops = hops;
    r.start = at;
    r.refineMains = false; // two hops say little of it
    r.rounds = 2;
    return r;
}

ToneAcquisition::Progress ToneAcquisition::refine()
{
    found = joint(replay.whole(), request(2, tuning));
    const double went = std::abs(found.tuning.tone - tuning.tone);
    const bool astray = !found.valid ||
                        std::abs(found.tuning.tone / hz - guess_Hz) > farthestBins * search.binWidth_Hz() ||
                        found.tuning.tone < lowestTone_Hz * hz;
    if (astray) {
        if (triedRest && plain.standsOut) {
            triedRest = false;
            return startFrom(plain.frequency_Hz);
        }
        stop();
        return Progress::nothing;
    }
    tuning.tone = found.tuning.tone;
    if (++round < mostRounds && went > settled_Hz * hz) {
        retake(tuning);
        return Progress::working;
    }
    if (comparedFamilies)
        return finish();
    comparedFamilies = true;
    retake(familiesSwapped(tuning));
    stage = Stage::otherSums;
    return Progress::working;
}

ToneAcquisition::Progress ToneAcquisition::compareFamilies()
{
    const Fit other = joint(replay.whole(), request(2, familiesSwapped(tuning)));
    if (other.valid && other.noiseVariance < clearlyLess * found.noiseVariance) {
        tuning = other.tuning;
        round = 0;
    }
    // Once more with the family that is now believed.
    round = std::max(round, mostRounds - 2);
    retake(tuning);
    stage = Stage::sums;
    return Progress::working;
}

// Only the newest hop surely holds a new tone alone.
ToneAcquisition::Progress ToneAcquisition::finish()
{
    stop();
    if (onlyNewest || found.amplitude * found.amplitude < 4.0 * found.noiseVariance) {
        const bool needsBoth = found.tuning.tone < lowTone_Hz * hz;
        if (!needsBoth)
            found = joint(replay.whole(), request(1, tuning));
    }
    return standsOut(found) ? Progress::found : Progress::nothing;
}

} // namespace couplet
