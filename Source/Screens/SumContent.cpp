// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/SumContent.h"

#include "Quantities/QuantityText.h"
#include "Screens/Notes.h"
#include "Screens/Words.h"

namespace couplet {
namespace {

std::vector<std::string> commonTags(const LiveView& view)
{
    std::vector<std::string> tags;
    if (view.simulated)
        tags.push_back("simulated");
    if (view.hold)
        tags.push_back("held");
    return tags;
}

void fillSum(SumContent& content, const Figure& figure, const std::optional<Expanded>& U, const std::string& total)
{
    content.number = levelText(figure.level_dB);
    if (U)
        content.uncertainty = uncertaintyText(U->U_dB);
    for (const auto& addend : figure.addends)
        content.addends.push_back({addend.name, signedLevelText(addend.value_dB)});
    if (figure.addends.size() > 1)
        content.total = {total, content.number};
}

} // namespace

bool isUnsteady(const ToneSummary& tone)
{
    return tone.steadiness_dB && *tone.steadiness_dB > steadyWithin_dB;
}

SumContent measuredContent(const LiveView& view)
{
    const Reading& r = view.reading;
    SumContent content;
    content.heading = "Measured";
    content.colour = colours::measured;
    content.tags = commonTags(view);
    content.notes = sidedNotes(view).measured;
    if (const auto heard = hearing(view); heard != Hearing::level) {
        content.words = silenceWords(heard);
        content.reason = silenceReason(heard, view);
        return content;
    }
    content.unit = unitOf(view);
    fillSum(content, *r.measured, r.measuredU, "at the coupler microphone");
    if (r.tone.clippedSamples > 0)
        content.tags.push_back("clipped");
    if (isUnsteady(r.tone))
        content.tags.push_back("unsteady");
    return content;
}

SumContent expectedContent(const LiveView& view)
{
    const Reading& r = view.reading;
    SumContent content;
    content.heading = "Expected";
    content.colour = colours::expected;
    content.tags = commonTags(view);
    content.notes = sidedNotes(view).expected;
    if (hearing(view) == Hearing::level && r.expected) {
        content.unit = "dB SPL";
        fillSum(content, *r.expected, r.expectedU, "at the rated sensitivity");
        return content;
    }
    content.words = "not known";
    if (r.earphone.empty())
        content.reason = "choose an earphone to see what its rating promises for the voltage that it gets";
    else if (hearing(view) != Hearing::level)
        content.reason = "a rating holds at one frequency: what it promises is known once a tone is heard";
    return content;
}

} // namespace couplet
