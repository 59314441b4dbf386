// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/BenchText.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

namespace couplet {
namespace {

// Columns a text takes on a terminal: UTF-8 sequences count once.
std::size_t columns(std::string_view text)
{
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string padded(const std::string& text, std::size_t width)
{
    return text + std::string(std::max(width, columns(text)) - columns(text), ' ');
}

constexpr std::size_t nameWidth = 44;

std::string row(const std::string& name, const std::string& value)
{
    return "  " + padded(name, nameWidth) + std::string(9 - std::min<std::size_t>(9, columns(value)), ' ') + value +
           "\n";
}

std::string sum(const std::string& title, const Figure& figure, const std::optional<Expanded>& U, const char* unit)
{
    std::string text = title + "\n";
    for (const Addend& a : figure.addends)
        text += row(a.name, signedLevelText(a.value_dB));
    text += row("", "---------");
    text += row("sum, " + std::string(unit), levelText(figure.level_dB));
    text.pop_back();
    return text + (U ? " " + uncertaintyText(U->U_dB) : "") + "\n";
}

std::string termLines(const Budget& terms, double u_dB)
{
    std::string text;
    for (const auto& t : terms)
        text += fmt::format("    {} {:5.1f} %  u {:.4f}  {}\n", padded(t.name, 34),
                            100.0 * t.u_dB * t.u_dB / (u_dB * u_dB), t.u_dB, t.obtained);
    return text;
}

std::string budget(const Budget& terms, const std::optional<Expanded>& U)
{
    if (!U || !(U->u_dB > 0.0))
        return {};
    return fmt::format("  where the {} comes from (k = {:.2f}):\n", uncertaintyText(U->U_dB), U->coverageFactor) +
           termLines(terms, U->u_dB);
}

// Of the difference: the terms that are neither figure's.
std::string between(const Difference& d)
{
    if (!d.expanded || d.between.empty())
        return {};
    return fmt::format("  in the {}, beside the terms of both:\n", uncertaintyText(d.expanded->U_dB)) +
           termLines(d.between, d.expanded->u_dB);
}

std::string tenths(double value)
{
    return fmt::format("{}{:.1f}", value < 0.0 ? "\u2212" : "", std::abs(value));
}

std::string toneLines(const ToneSummary& t)
{
    std::string text;
    const auto add = [&text](const std::string& fact) {
        text += (text.empty() || text.back() == '\n' ? "  " : "   ") + fact;
    };
    if (t.frequency)
        add("frequency " + frequencyText(*t.frequency));
    if (t.steadiness_dB)
        add(fmt::format("steady \u00b1{:.3f} dB", *t.steadiness_dB));
    if (t.distortion_percent)
        add(fmt::format("distortion {:.2f} %", *t.distortion_percent));
    if (t.headroom_dB)
        add(fmt::format("headroom {} dB", tenths(*t.headroom_dB)));
    if (!text.empty())
        text += "\n";
    if (t.noise_dBFS)
        add(fmt::format("noise {} dBFS{}", tenths(*t.noise_dBFS),
                        t.noiseA_dBFS ? fmt::format(", A {} dBFS", tenths(*t.noiseA_dBFS)) : std::string()));
    if (const auto below = t.humBelowTone_dB())
        add(fmt::format("{:.0f} Hz hum {} dB below the tone", t.hum->value, tenths(*below)));
    else if (t.hum_dBFS && t.hum)
        add(fmt::format("{:.0f} Hz hum {} dBFS", t.hum->value, tenths(*t.hum_dBFS)));
    if (t.dc_dBFS)
        add(fmt::format("DC {} dBFS", tenths(*t.dc_dBFS)));
    if (!text.empty() && text.back() != '\n')
        text += "\n";
    return text.empty() ? text : "tone\n" + text;
}

std::string notes(const std::vector<std::string>& list)
{
    std::string text;
    for (const auto& note : list)
        text += "note: " + note + "\n";
    return text;
}

} // namespace

std::string withUncertainty(double level_dB, const std::optional<Expanded>& U)
{
    return levelText(level_dB) + (U ? " " + uncertaintyText(U->U_dB) : "");
}

std::string verdictOf(const Reading& r)
{
    if (!r.verdict)
        return "cannot be judged";
    const std::string text = verdictText(*r.verdict);
    return r.verdict == Verdict::agrees && r.tookPartInCorrection ? text + "; no proof" : text;
}

std::string lineOf(const Reading& r)
{
    std::string text = r.earphone.empty() ? "earphone" : r.earphone;
    if (!r.side.empty())
        text += ", " + r.side;
    const char* unit = r.referenced ? "dB SPL" : "dBFS";
    if (!r.measured)
        return text + "   no level\n";
    text += "   measured " + withUncertainty(r.measured->level_dB, r.measuredU);
    if (r.expected)
        text += "   expected " + withUncertainty(r.expected->level_dB, r.expectedU);
    if (r.difference)
        text += "   difference " + signedLevelText(r.difference->D_dB) + "   " + verdictOf(r);
    return text + "   " + unit + "\n";
}

std::string textOf(const Reading& r)
{
    std::string text = lineOf(r) + "\n";
    if (r.measured)
        text += sum("measured", *r.measured, r.measuredU, r.referenced ? "dB SPL" : "dBFS") +
                budget(r.measured->budget, r.measuredU);
    if (r.expected)
        text += sum("expected", *r.expected, r.expectedU, "dB SPL") + budget(r.expected->budget, r.expectedU);
    if (r.difference) {
        text += "difference\n" + row("measured less expected, dB", signedLevelText(r.difference->D_dB));
        if (r.difference->expanded) {
            text.pop_back();
            text += fmt::format(" {}   E_n {:.2f}\n", uncertaintyText(r.difference->expanded->U_dB),
                                r.difference->enNumber.value_or(0.0)) +
                    between(*r.difference);
        }
    }
    const auto& s = r.sensitivity;
    if (s.dBSPLPerVolt) {
        text +=
            "this earphone, at this frequency\n" + row("dB SPL for 1 V at its terminals", levelText(*s.dBSPLPerVolt));
        if (s.dBSPLPerMilliwatt)
            text += row("dB SPL for 1 mW", levelText(*s.dBSPLPerMilliwatt));
        text += row("across it for 94 dB SPL", voltageText(*s.terminalVoltsFor94));
    }
    return text + toneLines(r.tone) + notes(r.notes) + notes(r.standing);
}

std::string textOf(const ReferenceOutcome& r, const std::string& coupler)
{
    std::string text;
    if (r.offset)
        text +=
            fmt::format("coupler '{}'   offset {}   dB SPL at 0 dBFS   {}{}\n\n", coupler,
                        withUncertainty(r.offset->level_dB, r.expanded), r.fitToUse ? "fit to use" : "not fit to use",
                        r.moved_dB ? fmt::format("   moved by {} dB", signedLevelText(*r.moved_dB)) : std::string());
    else
        text += fmt::format("coupler '{}'   no offset   not fit to use\n\n", coupler);
    if (r.offset)
        text += sum("what full scale stands for", *r.offset, r.expanded, "dB SPL at 0 dBFS") +
                budget(r.offset->budget, r.expanded);
    if (!r.checks.empty())
        text += "is the tone fit to be used?\n";
    for (const auto* list : {&r.checks, &r.warnings})
        for (const Check& c : *list)
            text +=
                fmt::format("  {} {} {}\n", c.passes ? "yes" : (list == &r.checks ? "NO " : "?  "), padded(c.name, 40),
                            c.unit.empty() ? fmt::format("{:g}", c.value) : fmt::format("{:.2f} {}", c.value, c.unit));
    if (r.correction && !r.correction->origin.empty())
        text += "the correction: " + r.correction->origin + "\n";
    if (r.history.change_dB)
        text += fmt::format("since the last reference: {} dB\n", signedLevelText(*r.history.change_dB));
    if (r.correctionChange_dB)
        text += fmt::format("for the other correction alone: {} dB\n", signedLevelText(*r.correctionChange_dB));
    return text + toneLines(r.tone) + notes(r.notes);
}

} // namespace couplet
