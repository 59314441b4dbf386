// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Notes.h"

#include "Screens/Words.h"

#include <algorithm>

namespace couplet {
namespace {

bool contains(const std::vector<std::string>& notes, const std::string& note)
{
    return std::find(notes.begin(), notes.end(), note) != notes.end();
}

bool isMissing(const std::optional<Figure>& figure, const std::string& note)
{
    return figure && contains(figure->missing, note);
}

// What is said of the tone alone, whatever is on the bench.
std::vector<std::string> notesOfTone(const ToneSummary& tone)
{
    return makeReading(tone, Setup{}).notes;
}

} // namespace

SidedNotes sidedNotes(const LiveView& view)
{
    const Reading& r = view.reading;
    SidedNotes sides;
    if (hearing(view) == Hearing::noAudio)
        return sides; // they tell of something that is over
    const auto ofTone = notesOfTone(r.tone);
    for (const auto& note : r.notes) {
        if (note == r.tone.whyNoLevel)
            continue; // stands in place of the number
        // What is neither the tone's nor the measured level's says why there is no expected one, if an earphone waits.
        const bool noExpected = !r.expected && !r.earphone.empty();
        if (isMissing(r.expected, note) || (noExpected && !isMissing(r.measured, note) && !contains(ofTone, note)))
            sides.expected.push_back(note);
        else
            sides.measured.push_back(note);
    }
    // What keeps a figure from being whole comes before what may be said of it.
    const auto missingFirst = [](std::vector<std::string>& notes, const std::optional<Figure>& figure) {
        std::stable_partition(notes.begin(), notes.end(),
                              [&figure](const std::string& note) { return isMissing(figure, note); });
    };
    missingFirst(sides.measured, r.measured);
    missingFirst(sides.expected, r.expected);
    if (hearing(view) == Hearing::level)
        sides.standing = r.standing;
    return sides;
}

} // namespace couplet
