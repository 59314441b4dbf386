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
#include <utility>

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

// Names of the budgets' terms.
constexpr const char* responseTerm = "microphone response";
constexpr const char* driveTerm = "drive voltage";

// The offset's terms, the microphone's response at the one frequency and the voltmeter err alike for every earphone that
// is read with them; the tone's own scatter and the load do not.
bool isShared(const BudgetTerm& term, const Budget& ofOffset)
{
    return term.name == responseTerm || term.name == driveTerm ||
           std::any_of(ofOffset.begin(), ofOffset.end(),
                       [&](const BudgetTerm& other) { return other.name == term.name; });
}

// From so many insertions on their scatter is believed.
constexpr std::size_t insertionsForScatter = 3;

// Of their mean, as far as it is believed.
double scatterOf(const std::vector<double>& levels_dB)
{
    const auto repeats = repeatsOf(levels_dB);
    return repeats && repeats->count >= insertionsForScatter ? repeats->deviationOfMean() : 0.0;
}

double uOfInsertions(const std::vector<double>& levels_dB, double one_dB, bool seatedAnew)
{
    const double promised_dB = one_dB / std::sqrt(static_cast<double>(levels_dB.size()));
    if (levels_dB.size() < insertionsForScatter)
        return promised_dB;
    return seatedAnew ? scatterOf(levels_dB) : std::max(promised_dB, scatterOf(levels_dB));
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

// The largest that those that count state of themselves; absent when one of them states nothing.
std::optional<double> uOfThoseThatCount(const FitEarphone& e, const std::vector<double>& levels_dB)
{
    if (e.u_stated_dB)
        return std::max(*e.u_stated_dB, scatterOf(levels_dB));
    double rest_dB = 0.0, one_dB = 0.0;
    for (const auto& insertion : e.insertions) {
        if (!insertion.setAside.empty())
            continue;
        if (!insertion.u_rest_dB)
            return std::nullopt;
        rest_dB = std::max(rest_dB, *insertion.u_rest_dB);
        one_dB = std::max(one_dB, insertion.u_insertion_dB);
    }
    return std::hypot(rest_dB, uOfInsertions(levels_dB, one_dB, areSeatingsOfTheirOwn(e.insertions)));
}

void splitShared(EarphoneReading& found, const Figure& measured, const Figure& expected, const Budget& ofOffset)
{
    Budget own, shared;
    for (const auto* figure : {&measured, &expected})
        for (const auto& term : figure->budget)
            (isShared(term, ofOffset) ? shared : own).push_back(term);
    found.u_dB = together_dB(own);
    found.u_shared_dB = together_dB(shared);
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
        splitShared(found, *reading.measured, *reading.expected, bare.offset.budget);
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

std::string whyNoInsertion(const FitEarphone& e, const EarphoneReading& reading)
{
    const bool isForADrive =
        e.setAside == notReadYet || std::any_of(e.insertions.begin(), e.insertions.end(),
                                                [](const auto& each) { return each.expected_dB.has_value(); });
    if (reading.expected_dB || !isForADrive)
        return {};
    return fmt::format("what {} should do with this drive is not known, for the library has no earphone of this name "
                       "with a whole rating: give it its name in the library",
                       inQuotes(e.name));
}

std::string addInsertion(FitEarphone& e, const EarphoneReading& reading)
{
    if (auto why = whyNoInsertion(e, reading); !why.empty())
        return why;
    const bool wasGivenWhole = e.insertions.empty();
    if (wasGivenWhole)
        e.u_stated_dB = reading.expected_dB ? std::nullopt : e.u_dB;
    if (wasGivenWhole && reading.expected_dB)
        e.tolerance_dB = reading.tolerance_dB; // one that is corrected later stays
    FitInsertion insertion{reading.level_dB, {}, reading.at_s, reading.seatedAnew, reading.expected_dB, {}};
    if (reading.expected_dB) {
        for (auto& before : e.insertions)
            if (!before.expected_dB)
                before.expected_dB = e.expected_dB; // which it was held against
        insertion.u_rest_dB = reading.u_dB;
        insertion.u_insertion_dB = reading.u_dB ? reading.u_insertion_dB : 0.0;
        insertion.u_shared_dB = reading.u_dB ? reading.u_shared_dB : 0.0;
    }
    e.insertions.push_back(std::move(insertion));
    if (e.setAside == notReadYet)
        e.setAside.clear();
    followInsertions(e);
    return {};
}

void followInsertions(FitEarphone& e)
{
    markInsertions(e);
    for (const auto& insertion : e.insertions)
        if (insertion.setAside.empty() && insertion.expected_dB)
            e.expected_dB = *insertion.expected_dB;
    const auto levels_dB = levelsThatCount(insertionsForOneDrive(e));
    if (levels_dB.empty())
        return;
    double sum_dB = 0.0;
    for (const double level_dB : levels_dB)
        sum_dB += level_dB;
    e.level_dB = sum_dB / static_cast<double>(levels_dB.size());
    e.u_dB = uOfThoseThatCount(e, levels_dB);
    e.u_shared_dB = 0.0;
    for (const auto& insertion : e.insertions)
        if (insertion.setAside.empty() && !e.u_stated_dB) // what is stated whole says nothing of that
            e.u_shared_dB = std::max(e.u_shared_dB, insertion.u_shared_dB);
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
        e.insertions.push_back({level_dB, {}, {}, false, e.expected_dB, {}});
    if (levels_dB.empty() || !e.u_dB)
        return;
    const double one_dB = std::min(assumedInsertion_dB, *e.u_dB * std::sqrt(static_cast<double>(levels_dB.size())));
    const double u_dB = uOfInsertions(levels_dB, one_dB, false);
    for (auto& insertion : e.insertions) {
        insertion.u_rest_dB = std::sqrt(std::max(0.0, *e.u_dB * *e.u_dB - u_dB * u_dB));
        insertion.u_insertion_dB = one_dB;
    }
}

std::optional<double> insertionsDiffer_dB(const FitEarphone& e)
{
    const auto levels_dB = levelsThatCount(insertionsForOneDrive(e));
    if (levels_dB.empty())
        return std::nullopt;
    const auto [low, high] = std::minmax_element(levels_dB.begin(), levels_dB.end());
    return *high - *low > insertionsMayDiffer_dB ? std::optional(*high - *low) : std::nullopt;
}

} // namespace couplet
