// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitEarphones.h"

#include "Bench/Reading.h"
#include "Library/Utf8.h"
#include "Metrology/JudgedTerms.h"
#include "Metrology/Offset.h"
#include "Metrology/Repeats.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

// What the budget's terms come to together.
double together_dB(const Budget& budget)
{
    double variance = 0.0;
    for (const auto& term : budget)
        variance += term.u_dB * term.u_dB;
    return std::sqrt(variance);
}

// From so many insertions on their scatter is believed.
constexpr std::size_t insertionsForScatter = 3;

double uOfInsertions(const std::vector<double>& levels_dB, double one_dB, bool seatedAnew)
{
    const double promised_dB = one_dB / std::sqrt(static_cast<double>(levels_dB.size()));
    const auto repeats = repeatsOf(levels_dB);
    if (!repeats || repeats->count < insertionsForScatter)
        return promised_dB;
    return seatedAnew ? repeats->deviationOfMean() : std::max(promised_dB, repeats->deviationOfMean());
}

// Between each two that count the earphone was seen to be taken out.
bool areSeatingsOfTheirOwn(const std::vector<FitInsertion>& insertions)
{
    bool isLifted = true; // before the first there was none
    for (const auto& insertion : insertions) {
        isLifted = isLifted || insertion.seatedAnew;
        if (!insertion.setAside.empty())
            continue;
        if (!isLifted)
            return false;
        isLifted = false;
    }
    return true;
}

} // namespace

std::optional<double> offsetAsIfBare_dB(const std::optional<Coupler>& coupler)
{
    const Reference* reference = coupler ? coupler->current() : nullptr;
    if (reference == nullptr)
        return {};
    return withoutCorrection(reference->addends, reference->budget, reference->offset_dB).offset.level_dB;
}

Outcome<EarphoneReading> readEarphone(const ToneSummary& tone, const Setup& setup)
{
    const Reference* reference = setup.coupler ? setup.coupler->current() : nullptr;
    if (reference == nullptr)
        return Fault{"An earphone is read with the coupler's reference, and there is none: take one on the Reference "
                     "page, with any correction or with none."};
    const auto bare = withoutCorrection(reference->addends, reference->budget, reference->offset_dB);
    Setup asIf = setup;
    Reference referenceAsIf = *reference;
    referenceAsIf.offset_dB = bare.offset.level_dB;
    referenceAsIf.addends = bare.offset.addends;
    referenceAsIf.budget = bare.offset.budget;
    referenceAsIf.missing.clear(); // it was the calibrator's or the correction's
    EarphoneReading found;
    found.u_insertion_dB = setup.coupler->judged.insertion_dB.value_or(assumedInsertion_dB);
    found.u_seating_dB = bare.u_seating_dB;
    asIf.coupler->references = {referenceAsIf};
    asIf.coupler->judged.insertion_dB = 0.0;
    if (asIf.earphone) {
        found.tolerance_dB = asIf.earphone->rating.tolerance_dB;
        asIf.earphone->rating.tolerance_dB = 0.0; // a rectangle of its own in the fit
    }
    const Reading reading = makeReading(tone, asIf);
    if (!reading.measured || !reading.referenced)
        return Fault{tone.whyNoLevel};
    found.level_dB = reading.measured->level_dB;
    if (!setup.earphone)
        return found;
    if (!reading.drive)
        return Fault{fmt::format("What {} should do is not known without its drive: type its voltage on the Read page, "
                                 "or have it sensed.",
                                 inQuotes(setup.earphone->name))};
    if (!reading.expected) {
        const auto why = expectedLevel(asIf.earphone->rating, *reading.drive, *tone.frequency);
        return Fault{why ? std::string("There is no expected level.") : why.fault().sentence};
    }
    found.expected_dB = reading.expected->level_dB;
    if (reading.measured->hasUncertainty() && reading.expected->hasUncertainty())
        found.u_dB = std::hypot(together_dB(reading.measured->budget), together_dB(reading.expected->budget));
    return found;
}

Outcome<FitEarphone> unreadEarphone(const Earphone& earphone)
{
    const auto& rating = earphone.rating;
    if (!rating.frequency || !rating.impedance || !rating.tolerance_dB)
        return Fault{
            fmt::format("The rating of {} does not state its {}: without it an earphone chooses no correction.",
                        inQuotes(earphone.name),
                        !rating.frequency   ? "frequency"
                        : !rating.impedance ? "impedance"
                                            : "tolerance")};
    const auto expected = expectedLevel(rating, Drive{Volts(1.0), {}, {}, false}, *rating.frequency);
    if (!expected)
        return expected.fault();
    FitEarphone e;
    e.name = earphone.name;
    e.level_dB = e.expected_dB = expected->level_dB;
    e.tolerance_dB = rating.tolerance_dB;
    e.keptAside = earphone.keptAside;
    e.setAside = notReadYet;
    return e;
}

void addInsertion(FitEarphone& e, const EarphoneReading& reading)
{
    if (reading.expected_dB) {
        for (auto& insertion : e.insertions) // read with another drive, they say the same
            insertion.level_dB += *reading.expected_dB - e.expected_dB;
        e.expected_dB = *reading.expected_dB;
        e.tolerance_dB = reading.tolerance_dB;
        e.u_dB = e.u_rest_dB = reading.u_dB;
        e.u_insertion_dB = reading.u_insertion_dB;
    }
    e.insertions.push_back({reading.level_dB, {}, reading.at_s, reading.seatedAnew});
    if (e.setAside == notReadYet)
        e.setAside.clear();
    const auto u_dB = e.u_dB;
    followInsertions(e);
    if (!reading.expected_dB) // nothing is known of it but its level
        e.u_dB = u_dB;
}

void followInsertions(FitEarphone& e)
{
    markInsertions(e);
    const auto levels_dB = levelsThatCount(e.insertions);
    if (levels_dB.empty())
        return;
    double sum_dB = 0.0;
    for (const double level_dB : levels_dB)
        sum_dB += level_dB;
    e.level_dB = sum_dB / static_cast<double>(levels_dB.size());
    if (e.u_rest_dB)
        e.u_dB =
            std::hypot(*e.u_rest_dB, uOfInsertions(levels_dB, e.u_insertion_dB, areSeatingsOfTheirOwn(e.insertions)));
}

bool hasNoInsertionLeft(const FitEarphone& e)
{
    return !e.insertions.empty() && levelsThatCount(e.insertions).empty();
}

void markInsertions(FitEarphone& e)
{
    const bool none = hasNoInsertionLeft(e);
    if (none && e.setAside.empty())
        e.setAside = everyInsertionAside;
    else if (!none && e.setAside == everyInsertionAside)
        e.setAside.clear();
}

void takeInsertions(FitEarphone& e, const std::vector<double>& levels_dB)
{
    e.insertions.clear();
    for (const double level_dB : levels_dB)
        e.insertions.push_back({level_dB, {}, {}, false});
    if (levels_dB.empty() || !e.u_dB)
        return;
    e.u_insertion_dB = std::min(assumedInsertion_dB, *e.u_dB * std::sqrt(static_cast<double>(levels_dB.size())));
    const double u_dB = uOfInsertions(levels_dB, e.u_insertion_dB, false);
    e.u_rest_dB = std::sqrt(std::max(0.0, *e.u_dB * *e.u_dB - u_dB * u_dB));
}

std::optional<double> insertionsDiffer_dB(const FitEarphone& e)
{
    const auto levels_dB = levelsThatCount(e.insertions);
    if (levels_dB.empty())
        return std::nullopt;
    const auto [low, high] = std::minmax_element(levels_dB.begin(), levels_dB.end());
    return *high - *low > insertionsMayDiffer_dB ? std::optional(*high - *low) : std::nullopt;
}

} // namespace couplet
