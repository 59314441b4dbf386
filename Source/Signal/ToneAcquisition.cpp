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
constexpr double clearlyMore = 1.3;

constexpr int longHops = 4;

// The tone has more power than all that is neither it nor its orders nor hum.
bool isMost(const Fit& f)
{
    constexpr double most = 2.5; // 1 dB more than an even share, so that two equal tones are no toss of a coin
    return f.amplitude * f.amplitude > most * f.noiseVariance;
}

bool standsOut(const Fit& f)
{
    return f.valid && f.consistent && isMost(f);
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

void ToneAcquisition::begin(const LineTuning& believed, long end, long available)
{
    start = believed;
    endChunk = end;
    hopsThere = available;
    loaded = 0;
    least = 0.0;
    triedRest = comparedFamilies = false;
    stage = Stage::loading;
}

// Its window may be long: it parts hum from a tone that two hops cannot part from it.
void ToneAcquisition::beginBeside(const Fit& mains, double leastAmplitude, long end, long available)
{
    begin(mains.tuning, end, available);
    least = leastAmplitude;
    plain = {};
    const double first = static_cast<double>(endChunk - search.chunks() - end) * chunkLength + 0.5 * mains.samples;
    LineSet orders = mains.atCentre;
    std::fill(orders.line.begin() + toneOrders, orders.line.end(), Phasor{});
    remover.set(orders, mains.tuning, first + 0.5 * chunkLength);
    stage = Stage::loadingRest;
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
        if (loadSome([&] {
                FoldedChunk chunk = folded(raw.chunk(first + loaded));
                remover(chunk);
                return unfolded(chunk);
            }))
            stage = Stage::searchingRest;
        return Progress::working;
    case Stage::searchingRest:
        return search.work(butterfliesAtOnce) ? afterRest() : Progress::working;
    case Stage::sums:
        return replay.upTo(raw, endChunk, chunksAtOnce) ? refine() : Progress::working;
    case Stage::otherSums:
        return replay.upTo(raw, endChunk, chunksAtOnce) ? compareFamilies() : Progress::working;
    case Stage::longSums:
        return replay.upTo(raw, endChunk, chunksAtOnce) ? tryLonger() : Progress::working;
    case Stage::idle:
        break;
    }
    return Progress::nothing;
}

ToneAcquisition::Progress ToneAcquisition::afterSearch()
{
    plain = search.strongest();
    if (!plain.standsOut)
        crowds = 0;
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
    const long centre = endChunk - chunksInHop, first = endChunk - search.chunks();
    remover.set(mains.valid ? mains.atCentre : LineSet{}, start,
                (static_cast<double>(first - centre) + 0.5) * chunkLength);
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

void ToneAcquisition::retake(const LineTuning& at, int hops)
{
    replay.begin(at, endChunk - static_cast<long>(hops) * chunksInHop);
}

FitRequest ToneAcquisition::request(int hops, const LineTuning& at) const
{
    FitRequest r;
    r.hops = hops;
    r.start = at;
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

// Whether a mains order lies so near that a fit over two hops leaves it out.
bool ToneAcquisition::nearMains() const
{
    const double order = std::round(tuning.tone / tuning.mains);
    return order >= 1.0 && order <= mainsOrders &&
           std::abs(tuning.tone - order * tuning.mains) < 0.75 * 2.0 * pi / (chunksInHop * chunkLength);
}

// Only the newest hop surely holds a new tone alone; when both leave as little, both do.
ToneAcquisition::Progress ToneAcquisition::finish()
{
    if (hopsThere >= longHops && nearMains()) {
        retake(tuning, longHops);
        round = 0;
        stage = Stage::longSums;
        return Progress::working;
    }
    stop();
    const bool needsBoth = found.tuning.tone < lowTone_Hz * hz;
    if (!needsBoth) {
        const Fit newest = joint(replay.whole(), request(1, tuning));
        if (newest.valid && newest.consistent && found.noiseVariance > clearlyMore * newest.noiseVariance) {
            replay.whole().keepNewest(1);
            found = newest;
        }
    }
    if (least == 0.0)
        crowds = found.valid && !isMost(found) && found.tuning.tone > lowTone_Hz * hz ? crowds + 1 : 0;
    return standsOut(found) && found.amplitude > least ? Progress::found : Progress::nothing;
}

// Four hops part the tone from an order 7.5 Hz away; they are of use when the tone has been there so long.
ToneAcquisition::Progress ToneAcquisition::tryLonger()
{
    const Fit longer = joint(replay.whole(), request(longHops, tuning));
    const bool better = longer.valid && longer.noiseVariance < clearlyLess * found.noiseVariance;
    if (better && ++round < mostRounds && std::abs(longer.tuning.tone - tuning.tone) > settled_Hz * hz) {
        tuning.tone = longer.tuning.tone;
        retake(tuning, longHops);
        return Progress::working;
    }
    if (better && standsOut(longer) && longer.amplitude > least) {
        stop();
        found = longer;
        return Progress::found;
    }
    hopsThere = 0; // two will have to do
    round = mostRounds;
    retake(tuning);
    stage = Stage::sums;
    return Progress::working;
}

} // namespace couplet
