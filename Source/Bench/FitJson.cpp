// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitJson.h"

#include "Bench/FitWords.h"

#include <cmath>

namespace couplet {
namespace {

// Beyond the sixth decimal nothing was measured.
JsonValue number(double value)
{
    return std::isfinite(value) ? JsonValue(std::round(value * 1e6) / 1e6 + 0.0) : JsonValue{};
}
JsonValue number(const std::optional<double>& value)
{
    return value ? number(*value) : JsonValue{};
}
JsonValue meanOf(const std::optional<DensitySummary>& summary)
{
    return summary ? number(summary->mean_dB) : JsonValue{};
}

JsonList textsOf(const std::vector<std::string>& texts)
{
    JsonList list;
    for (const auto& text : texts)
        list.push_back(text);
    return list;
}

JsonValue throughOf(const CorrectionFit& fit)
{
    if (!fit.through)
        return {};
    return JsonObject{{"readings", static_cast<double>(fit.through->count)},
                      {"mean_db", number(fit.through->mean_dB)},
                      {"scatter_db", number(fit.through->scatter_dB)}};
}

// Each null has its reason among the notes.
std::vector<std::string> reasonsOf(const CorrectionFit& fit)
{
    std::vector<std::string> reasons;
    if (fit.evidence.fittings.size() + fit.evidence.earphones.size() == 1)
        reasons.emplace_back("there is one piece of evidence: without it nothing is left");
    if (!fit.hasUncertainty())
        reasons.emplace_back(
            fit.missing.empty()
                ? "while the evidence contradicts itself there is no uncertainty, and the correction is "
                  "not to be used"
                : "whether an earphone contradicts the rest needs the result's uncertainty");
    return reasons;
}

} // namespace

JsonObject jsonOf(const FitInput& input, const CorrectionFit& fit)
{
    JsonList fittings, earphones, pairs;
    for (const auto& f : fit.fittings)
        fittings.push_back(JsonObject{{"name", f.name},
                                      {"readings", static_cast<double>(f.count)},
                                      {"mean_db", number(f.mean_dB)},
                                      {"scatter_db", number(f.scatter_dB)},
                                      {"correction_db", number(f.says_dB)},
                                      {"without_it_db", meanOf(f.without)},
                                      {"own_error_probability", number(f.ownError)}});
    for (const auto& e : fit.earphones)
        earphones.push_back(JsonObject{{"name", e.name},
                                       {"correction_db", number(e.says_dB)},
                                       {"tolerance_db", number(e.tolerance_dB)},
                                       {"without_it_db", meanOf(e.without)},
                                       {"kept_aside", e.keptAside},
                                       {"contradicts", e.contradicts ? JsonValue(*e.contradicts) : JsonValue{}},
                                       {"outside_probability", number(e.outside)}});
    for (const auto& [a, b] : fit.notToldApart)
        pairs.push_back(JsonList{fit.fittings[a].name, fit.fittings[b].name});
    const bool sure = fit.hasUncertainty();
    const auto& all = fit.posterior.all;
    const auto sign = fit.posterior.sign;
    const auto words = wordsOf(input, fit);
    auto notes = words.notes;
    for (auto& reason : reasonsOf(fit))
        notes.push_back(std::move(reason));
    const auto contradiction = contradictionText(fit);
    JsonObject object{
        {"headline", words.headline},
        {"contradiction", contradiction.empty() ? JsonValue{} : JsonValue(contradiction)},
        {"sentences", textsOf(words.sentences)},
        {"fittings", std::move(fittings)},
        {"through", throughOf(fit)},
        {"earphones", std::move(earphones)},
        {"correction_db", number(fit.correction_dB())},
        {"interval_db", sure ? JsonValue(JsonList{number(all.low_dB), number(all.high_dB)}) : JsonValue{}},
        {"expanded_uncertainty_db", sure ? number(fit.U_dB()) : JsonValue{}},
        {"standard_uncertainty_db", sure ? number(all.u_dB) : JsonValue{}},
        {"error_per_scatter", number(fit.posterior.kappa)},
        {"error_sign", sign ? JsonValue(JsonObject{
                                  {"any", number(sign->any)}, {"high", number(sign->high)}, {"low", number(sign->low)}})
                            : JsonValue{}},
        {"not_told_apart", std::move(pairs)}};
    object.emplace_back("notes", textsOf(notes));
    return object;
}

} // namespace couplet
