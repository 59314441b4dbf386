// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/CouplerTolerance.h"

#include "Metrology/Expanded.h"
#include "Metrology/JudgedTerms.h"
#include "Metrology/Rating.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace couplet {
namespace {

struct Row
{
    double frequency_Hz, tolerance_dB;
};

// IEC 60711:1981 Table 2, second-hand; at 500 Hz the table has no tolerance, for all its levels are re 500 Hz.
constexpr std::array<Row, 21> table{
    {{100.0, 0.5},  {125.0, 0.5},  {160.0, 0.5},  {200.0, 0.4},  {250.0, 0.4},  {315.0, 0.4},  {400.0, 0.4},
     {500.0, 0.0},  {630.0, 0.4},  {800.0, 0.4},  {1000.0, 0.5}, {1250.0, 0.5}, {1600.0, 0.5}, {2000.0, 0.6},
     {2500.0, 0.6}, {3150.0, 0.7}, {4000.0, 0.8}, {5000.0, 1.0}, {6300.0, 1.0}, {8000.0, 1.5}, {10000.0, 2.0}}};

constexpr Hertz usualReference{1000.0}; // of most calibrators; common practice, no source
constexpr double worthATerm_dB = 0.005; // less is not shown
constexpr double edge = 1.001;          // a tone that is meant to be at an end of the table is within it

bool holds(std::string_view words, std::string_view part)
{
    const auto same = [](char a, char b) {
        const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
        return lower(a) == lower(b);
    };
    return std::search(words.begin(), words.end(), part.begin(), part.end(), same) != words.end();
}

bool holdsAny(std::string_view words, std::initializer_list<std::string_view> parts)
{
    return std::any_of(parts.begin(), parts.end(), [words](std::string_view part) { return holds(words, part); });
}

void addTerms(Figure& between, const CouplerStep& step, Hertz reference)
{
    for (const Hertz f : {reference, step.tone}) {
        const auto tolerance_dB = earSimulatorTolerance_dB(f);
        if (!tolerance_dB) {
            between.missing.push_back(fmt::format("what an ear simulator may deviate is known from 100 Hz to 10 kHz, "
                                                  "and not at {}: a rating there cannot be judged",
                                                  nominalFrequencyText(f)));
            return;
        }
        if (*tolerance_dB >= worthATerm_dB)
            between.budget.push_back(
                fromLimits("coupler at " + nominalFrequencyText(f), *tolerance_dB,
                           fmt::format("IEC 60711 Table 2{}{}",
                                       step.kind == CouplerKind::notStated ? ", kind of coupler assumed" : "",
                                       f == reference && !step.reference ? ", reference there assumed" : "")));
    }
}

} // namespace

CouplerKind couplerKindFrom(std::string_view words)
{
    if (holdsAny(words, {"60318-4", "711", "ear simulator"}))
        return CouplerKind::earSimulator;
    if (holdsAny(words, {"bare microphone"}))
        return CouplerKind::bareMicrophone;
    if (holdsAny(words, {"60318", "60303", "acoustic coupler", "artificial ear"}))
        return CouplerKind::other;
    return CouplerKind::notStated;
}

std::optional<double> earSimulatorTolerance_dB(Hertz frequency)
{
    const double f = frequency.value;
    if (!(f >= table.front().frequency_Hz / edge && f <= table.back().frequency_Hz * edge))
        return std::nullopt;
    const auto above =
        std::find_if(table.begin() + 1, table.end() - 1, [f](const Row& row) { return row.frequency_Hz >= f; });
    const Row& low = *(above - 1);
    const double share = std::log(f / low.frequency_Hz) / std::log(above->frequency_Hz / low.frequency_Hz);
    return std::lerp(low.tolerance_dB, above->tolerance_dB, std::clamp(share, 0.0, 1.0));
}

Figure couplerBetween(const CouplerStep& step)
{
    Figure between;
    const Hertz reference = step.reference.value_or(usualReference);
    if (step.kind == CouplerKind::bareMicrophone || sameRatingFrequency(reference, step.tone))
        return between;
    const std::string way =
        fmt::format("from {} to {}", nominalFrequencyText(reference), nominalFrequencyText(step.tone));
    if (step.set_dB)
        between.budget.push_back({"coupler " + way, *step.set_dB, infiniteDegrees, Shape::normal, howJudged(true)});
    else if (step.kind == CouplerKind::other)
        between.missing.push_back(fmt::format("how far this kind of coupler may deviate {} is not known: state its "
                                              "uncertainty, or take the reference at the tone's frequency",
                                              way));
    else
        addTerms(between, step, reference);
    return between;
}

} // namespace couplet
