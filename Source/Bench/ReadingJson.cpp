// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReadingJson.h"

#include <cmath>

namespace couplet {
namespace {

// Beyond the sixth decimal nothing was measured.
JsonValue number(double value)
{
    if (!std::isfinite(value))
        return {};
    return std::round(value * 1e6) / 1e6 + 0.0;
}
JsonValue number(const std::optional<double>& value)
{
    return value ? number(*value) : JsonValue{};
}
JsonValue rounded(const std::optional<Expanded>& e)
{
    return e ? JsonValue(roundedUp_dB(e->U_dB)) : JsonValue{};
}
JsonValue textOrNull(const std::string& text)
{
    return text.empty() ? JsonValue{} : JsonValue(text);
}

JsonList jsonOf(const std::vector<Addend>& addends)
{
    JsonList list;
    for (const auto& a : addends)
        list.push_back(JsonObject{{"name", a.name}, {"value_db", number(a.value_dB)}});
    return list;
}

JsonList budgetJson(const Budget& budget)
{
    JsonList list;
    for (const auto& t : budget)
        list.push_back(JsonObject{{"name", t.name},
                                  {"standard_uncertainty_db", number(t.u_dB)},
                                  {"degrees_of_freedom", number(t.degreesOfFreedom)},
                                  {"shape", t.shape == Shape::normal ? "normal" : "rectangular"},
                                  {"obtained", t.obtained}});
    return list;
}

JsonList notesJson(const std::vector<std::string>& notes)
{
    JsonList list;
    for (const auto& note : notes)
        list.push_back(note);
    return list;
}

JsonObject figureJson(const std::optional<Figure>& figure, const std::optional<Expanded>& U, const char* unit)
{
    const Figure f = figure.value_or(Figure{});
    return {{"level_db", figure ? number(f.level_dB) : JsonValue{}},
            {"unit", unit},
            {"expanded_uncertainty_db", rounded(U)},
            {"coverage_factor", U ? number(U->coverageFactor) : JsonValue{}},
            {"terms", jsonOf(f.addends)},
            {"budget", budgetJson(f.budget)}};
}

// A program is told of each null; a person sees that a line is not there.
std::vector<std::string> withReasons(const Reading& r)
{
    std::vector<std::string> notes = r.notes;
    notes.insert(notes.end(), r.standing.begin(), r.standing.end());
    if (!r.tone.hum_dBFS)
        notes.emplace_back("no hum at 50 or 60 Hz stands out of the noise");
    if (!r.tone.dc_dBFS)
        notes.emplace_back("no constant (DC) above -140 dBFS");
    if (r.measured && !r.sensitivity.dBSPLPerVolt)
        notes.emplace_back("the sensitivity needs dB SPL, a drive and, behind a source, the earphone's impedance");
    return notes;
}

JsonValue hertz(const std::optional<Hertz>& f)
{
    return f ? number(f->value) : JsonValue{};
}

JsonList checksJson(const std::vector<Check>& checks)
{
    JsonList list;
    for (const Check& c : checks)
        list.push_back(
            JsonObject{{"name", c.name}, {"value", number(c.value)}, {"limit", number(c.limit)}, {"passes", c.passes}});
    return list;
}

} // namespace

JsonObject jsonOf(const ToneSummary& t)
{
    return {{"level_dbfs", number(t.level_dBFS)},
            {"frequency_hz", hertz(t.frequency)},
            {"steadiness_db", number(t.steadiness_dB)},
            {"distortion_percent", number(t.distortion_percent)},
            {"noise_dbfs", number(t.noise_dBFS)},
            {"noise_a_dbfs", number(t.noiseA_dBFS)},
            {"hum_below_tone_db", number(t.humBelowTone_dB())},
            {"hum_hz", hertz(t.hum)},
            {"distortion_and_noise_percent", number(t.distortionAndNoise_percent)},
            {"headroom_db", number(t.headroom_dB)},
            {"clipped_samples", static_cast<double>(t.clippedSamples)},
            {"dc_dbfs", number(t.dc_dBFS)}};
}

JsonObject jsonOf(const Reading& r)
{
    JsonObject o{{"tone", jsonOf(r.tone)},
                 {"measured", figureJson(r.measured, r.measuredU, r.referenced ? "dB SPL" : "dBFS")},
                 {"expected", r.expected ? JsonValue(figureJson(r.expected, r.expectedU, "dB SPL")) : JsonValue{}}};
    const bool judged = r.difference.has_value();
    o.push_back({"difference_db", judged ? number(r.difference->D_dB) : JsonValue{}});
    o.push_back({"difference_uncertainty_db", judged ? rounded(r.difference->expanded) : JsonValue{}});
    o.push_back({"difference_budget", judged ? JsonValue(budgetJson(r.difference->between)) : JsonValue{}});
    o.push_back({"en_number", judged ? number(r.difference->enNumber) : JsonValue{}});
    o.push_back({"verdict", r.verdict ? JsonValue(verdictText(*r.verdict)) : JsonValue{}});
    o.push_back({"took_part_in_correction", r.tookPartInCorrection});
    const auto& s = r.sensitivity;
    o.push_back(
        {"sensitivity", JsonObject{{"db_spl_per_volt", number(s.dBSPLPerVolt)},
                                   {"db_spl_per_milliwatt", number(s.dBSPLPerMilliwatt)},
                                   {"terminal_volts_for_94_db",
                                    s.terminalVoltsFor94 ? number(s.terminalVoltsFor94->value) : JsonValue{}}}});
    o.push_back({"coupler", textOrNull(r.coupler)});
    o.push_back({"earphone", textOrNull(r.earphone)});
    o.push_back({"side", textOrNull(r.side)});
    o.push_back({"drive_v", r.drive ? number(r.drive->voltage.value) : JsonValue{}});
    o.push_back({"notes", notesJson(withReasons(r))});
    return o;
}

JsonObject jsonOf(const ReferenceOutcome& r)
{
    JsonList seatings;
    for (const double level : r.seatings_dBFS)
        seatings.push_back(number(level));
    const Figure offset = r.offset.value_or(Figure{});
    return {{"fit_to_use", r.fitToUse},
            {"checks", checksJson(r.checks)},
            {"warnings", checksJson(r.warnings)},
            {"seatings_dbfs", seatings},
            {"correction_origin",
             r.correction && !r.correction->origin.empty() ? JsonValue(r.correction->origin) : JsonValue{}},
            {"tone", jsonOf(r.tone)},
            {"offset_db", r.offset ? number(offset.level_dB) : JsonValue{}},
            {"expanded_uncertainty_db", rounded(r.expanded)},
            {"coverage_factor", r.expanded ? number(r.expanded->coverageFactor) : JsonValue{}},
            {"terms", jsonOf(offset.addends)},
            {"budget", budgetJson(offset.budget)},
            {"change_since_last_db", number(r.history.change_dB)},
            {"change_by_correction_db", number(r.correctionChange_dB)},
            {"moved_db", number(r.moved_dB)},
            {"within_control_limits", r.history.withinLimits ? JsonValue(*r.history.withinLimits) : JsonValue{}},
            {"notes", notesJson(r.notes)}};
}

} // namespace couplet
