// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitWordsPicture.h"

#include "Screens/Pen.h"

#include <algorithm>

namespace couplet {
namespace {

constexpr float inset = 16.0f;
constexpr int mostNoteLines = 3;

} // namespace

FitWordsPicture fitWordsPicture(const FitSummary& summary, const std::vector<std::string>& tags, float width,
                                float bottom, const Measures& m, const Fonts& fonts)
{
    Pen pen(fonts);
    const TextStyle head{m.between(13, 16), true}, plain{m.between(12, 14)};
    const TextStyle small{m.between(11.5f, 13), false, summary.attention ? colours::ink : colours::grey};
    const float room = width - 2.0f * inset, pitch = m.between(15, 19), notePitch = m.between(14, 17);

    float y = m.between(20, 28), right = width - inset;
    for (const auto& tag : tags)
        right -= pen.tag(tag, right, y - 1.0f, {m.between(10, 12)}, colours::paper) + 6.0f;
    y += m.between(16, 20) *
         static_cast<float>(pen.paragraph(summary.headline, inset, y, right - inset, m.between(16, 20), 2, head) - 1);
    y += m.between(18, 23);

    // The note comes first: it answers what was asked for last.
    const float markRoom = summary.attention && !summary.note.empty() ? 18.0f : 0.0f;
    const int noteLines = std::min(mostNoteLines, pen.linesFor(summary.note, room - markRoom, small));
    const float noteTop = bottom - notePitch * static_cast<float>(noteLines);
    std::string said;
    int leftOut = 0;
    for (const auto& sentence : summary.sentences) {
        std::string longer = said;
        longer += (said.empty() ? "" : " ") + sentence;
        const float height = pitch * static_cast<float>(pen.linesFor(longer, room, plain) - 1);
        if (leftOut > 0 || (!said.empty() && y + height + Fonts::descent(plain) > noteTop))
            ++leftOut;
        else
            said = longer;
    }
    const int most = std::max(1, 1 + static_cast<int>((noteTop - Fonts::descent(plain) - y) / pitch));
    y += pitch * static_cast<float>(pen.paragraph(said, inset, y, room, pitch, most, plain));
    y += notePitch - pitch + m.between(1, 2);
    if (markRoom > 0.0f)
        pen.mark(Mark::attention, inset, y - 0.34f * small.size, 12.0f, colours::ink);
    pen.paragraph(summary.note, inset + markRoom, y, room - markRoom, notePitch, noteLines, small);
    return {std::move(pen.picture), leftOut};
}

} // namespace couplet
