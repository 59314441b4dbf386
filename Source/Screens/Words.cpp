// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Words.h"

#include "Metrology/Expanded.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {

std::string ageText(double age_s)
{
    constexpr double minute = 60.0, hour = 3600.0, day = 86400.0;
    if (age_s < -clocksDiffer_s)
        return "in the future: was a clock put back?";
    if (age_s < 1.5 * minute)
        return "just now";
    if (age_s < 1.5 * hour)
        return fmt::format("{:.0f} min ago", age_s / minute);
    if (age_s < 2.0 * day)
        return fmt::format("{:.0f} h ago", age_s / hour);
    return fmt::format("{:.0f} days ago", age_s / day);
}

MarkedWords referenceWords(const LiveView& view)
{
    const std::string age = view.referenceAge_s ? fmt::format(" {}", ageText(*view.referenceAge_s)) : "";
    switch (view.reference) {
    case ReferenceState::noCoupler:
        return {Mark::silent, "No coupler chosen"};
    case ReferenceState::none:
        return {Mark::hollow, "No reference yet"};
    case ReferenceState::fresh:
        return {Mark::whole, "Referenced" + age};
    case ReferenceState::stale:
        return {Mark::half, "Stale, referenced" + age};
    }
    return {};
}

std::optional<Expanded> offsetUncertainty(const Reading& reading)
{
    if (!reading.referenced || !reading.measured || !reading.measured->hasUncertainty())
        return {};
    // measuredLevel() puts the offset's own terms first, and after them those of reading with it.
    const Budget& all = reading.measured->budget;
    const auto end =
        std::find_if(all.begin(), all.end(), [](const BudgetTerm& term) { return term.name == "microphone response"; });
    const Budget offset(all.begin(), end);
    return offset.empty() ? std::nullopt : std::optional(expand(offset));
}

std::string offsetWords(const LiveView& view)
{
    if (view.reference == ReferenceState::none || view.reference == ReferenceState::noCoupler)
        return "levels are dBFS";
    if (const auto U = offsetUncertainty(view.reading))
        return fmt::format("offset U = {} dB (95 %)", uncertaintyText(U->U_dB));
    return view.reading.referenced && view.reading.measured ? "offset U not known" : "";
}

Hearing hearing(const LiveView& view)
{
    if (!view.audioRuns && !view.hold)
        return Hearing::noAudio;
    return view.reading.measured ? Hearing::level : Hearing::noTone;
}

std::string silenceWords(Hearing h)
{
    return h == Hearing::noAudio ? "no audio" : h == Hearing::noTone ? "no tone" : "";
}

std::string silenceReason(Hearing h, const LiveView& view)
{
    if (h == Hearing::noAudio)
        return "nothing has arrived for a second: start the host's audio, or choose a sound card that runs";
    return h == Hearing::noTone ? view.reading.tone.whyNoLevel : "";
}

std::string oneDecimalText(double value)
{
    const double rounded = roundedHalfAway(value, 1);
    return (rounded < 0.0 ? "\u2212" : "") + fmt::format("{:.1f}", std::abs(rounded));
}

const char* unitOf(const LiveView& view)
{
    const bool hasReference = view.reference == ReferenceState::fresh || view.reference == ReferenceState::stale;
    return (view.reading.measured ? view.reading.referenced : hasReference) ? "dB SPL" : "dBFS";
}

MarkedWords verdictWords(const LiveView& view)
{
    const Reading& r = view.reading;
    if (hearing(view) != Hearing::level || !r.verdict)
        return {Mark::silent, "cannot be judged"};
    switch (*r.verdict) {
    case Verdict::agrees:
        return {Mark::agrees, verdictText(*r.verdict) + (r.tookPartInCorrection ? "; no proof" : "")};
    case Verdict::differs:
        return {Mark::differs, verdictText(*r.verdict)};
    case Verdict::tooUncertain:
        return {Mark::unclear, verdictText(*r.verdict)};
    }
    return {};
}

std::string verdictSentence(const LiveView& view)
{
    const Reading& r = view.reading;
    const std::string words = verdictWords(view).words;
    if (hearing(view) != Hearing::level || !r.verdict || !r.difference || !r.difference->expanded)
        return words;
    const std::string U = uncertaintyText(r.difference->expanded->U_dB);
    if (*r.verdict == Verdict::agrees)
        return fmt::format("agrees within {}{}", U, r.tookPartInCorrection ? "; no proof" : "");
    return *r.verdict == Verdict::differs ? fmt::format("differs beyond {}", U) : words;
}

std::string earphoneWords(const LiveView& view)
{
    if (view.reading.earphone.empty())
        return "choose an earphone";
    return view.reading.side.empty() ? view.reading.earphone
                                     : fmt::format("{}, {}", view.reading.earphone, view.reading.side);
}

std::string couplerWords(const LiveView& view)
{
    if (view.couplerSlot >= 1 && view.couplerSlot <= static_cast<int>(view.slotNames.size())) {
        const std::string& name = view.slotNames[static_cast<std::size_t>(view.couplerSlot - 1)];
        if (!name.empty())
            return name;
    }
    return view.reading.coupler.empty() ? "no coupler" : view.reading.coupler;
}

std::string weightingWords(FrequencyWeighting weighting)
{
    switch (weighting) {
    case FrequencyWeighting::A:
        return "A-weighted";
    case FrequencyWeighting::C:
        return "C-weighted";
    case FrequencyWeighting::Z:
        return "Z-weighted";
    }
    return {};
}

std::string timeWords(TimeWeighting time)
{
    return time == TimeWeighting::fast ? "Fast" : "Slow";
}

std::vector<std::string> notices(const LiveView& view)
{
    std::vector<std::string> all;
    if (!view.stateNotice.empty())
        all.push_back(view.stateNotice);
    if (!view.couplerNotice.empty())
        all.push_back(view.couplerNotice);
    if (view.offline)
        all.push_back("The host renders faster than real time: the numbers follow its audio, not the clock.");
    if (view.lostEstimates > 0)
        all.push_back(fmt::format(
            "{} estimate{} lost while the screen was busy; levels since the start are whole, the last minute has gaps.",
            view.lostEstimates, view.lostEstimates == 1 ? " was" : "s were"));
    return all;
}

} // namespace couplet
