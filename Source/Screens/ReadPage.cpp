// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ReadPage.h"

#include "Screens/DifferencePicture.h"
#include "Screens/Notes.h"
#include "Screens/Pen.h"
#include "Screens/ToneStripPicture.h"
#include "Screens/Words.h"

#include <fmt/format.h>

namespace couplet {
namespace {

juce::Point<float> sizeOf(const juce::Component& c)
{
    return c.getLocalBounds().getBottomRight().toFloat();
}

} // namespace

ReadPage::ReadPage(Controls& controls) : loop(controls), simulated(controls), choices(controls), views(controls)
{
    const std::initializer_list<juce::Component*> children{&loop,       &notice,   &simulated, &measured,
                                                           &difference, &expected, &allNotes,  &strip,
                                                           &views,      &earphone, &more,      &choices};
    for (auto* child : children)
        addChildComponent(child);
    for (Canvas* canvas : {&measured, &difference, &expected, &strip})
        canvas->setVisible(true);
    earphone.setVisible(true);
    measured.setTitle("Measured");
    difference.setTitle("Difference");
    expected.setTitle("Expected");
    strip.setTitle("Checks on the tone");
    allNotes.setTitle("Notes");
    earphone.setTooltip("earphone, side and drive");
    earphone.onClick = [this] { openChoices(!choicesOpen); };
    more.onClick = [this] { openNotes(!notesOpen); };
    choices.onClose = [this] {
        openChoices(false);
        earphone.grabKeyboardFocus();
    };
    choices.onHeight = [this] { layOut(); };
    simulated.onHeight = [this] { layOut(); };
    views.onChosen = [this] { drawPictures(); };
}

void ReadPage::openChoices(bool open)
{
    choicesOpen = open;
    layOut();
}

void ReadPage::openNotes(bool open)
{
    notesOpen = open;
    layOut();
}

void ReadPage::show(const LiveView& next)
{
    view = next;
    loop.show(view);
    notice.show(view);
    simulated.show(view);
    choices.show(view);
    if (barsHeight(static_cast<float>(getWidth()) - 2.0f * measures.margin()) != barsShown)
        layOut();
    else
        drawPictures();
}

void ReadPage::resized()
{
    layOut();
}

float ReadPage::barsHeight(float width) const
{
    return heightOfBars({loop.heightFor(width), notice.heightFor(width), simulated.heightFor()});
}

float ReadPage::layOutBars(float width)
{
    const float y = placeBars(
        {{loop, loop.heightFor(width)}, {notice, notice.heightFor(width)}, {simulated, simulated.heightFor()}},
        measures.margin(), 10.0f, width);
    barsShown = barsHeight(width);
    return barsShown > 0.0f ? y - measures.between(3, 10) : 0.0f;
}

void ReadPage::layOut()
{
    const float width = static_cast<float>(getWidth()) - 2.0f * measures.margin();
    if (width <= 0.0f)
        return;
    const float top = layOutBars(width), bottom = static_cast<float>(getHeight()) - measures.between(8, 10);
    const float stripHeight = choicesOpen ? choices.heightFor() : measures.between(40, 44);
    const float gap = measures.between(6, 10);
    const float usual = measures.between(202, 309);
    const float viewsHeight = bottom - top - usual - stripHeight - gap;
    // Lower than this it tells nothing, and its room goes to the notes.
    const bool viewsFit = viewsHeight >= measures.between(60, 90);
    columns.middle = measures.between(142, 224);
    columns.width = std::min(480.0f, (width - columns.middle) / 2.0f);
    columns.height = viewsFit ? usual : bottom - top - stripHeight;
    layOutMiddle(top);

    const float stripTop = top + columns.height;
    strip.setVisible(!choicesOpen);
    choices.setVisible(choicesOpen);
    (choicesOpen ? static_cast<juce::Component&>(choices) : strip)
        .setBounds(whole(measures.margin(), stripTop, width, stripHeight));
    views.setBounds(whole(measures.margin(), stripTop + stripHeight + gap, width, std::max(0.0f, viewsHeight)));
    views.setVisible(viewsFit && !notesOpen);
    layOutNotes(top, bottom, viewsFit);
    choices.show(view);
    drawPictures();
}

// All notes stand in place of the lower view, or, where they need more, of the whole page.
void ReadPage::layOutNotes(float top, float bottom, bool viewsFit)
{
    notesFill = false;
    notesFill = notesOpen && !(viewsFit && notesPicture(sizeOf(views)).whole);
    for (Canvas* canvas : {&measured, &difference, &expected})
        canvas->setVisible(!notesFill);
    earphone.setVisible(!notesFill);
    if (notesFill) {
        strip.setVisible(false);
        choices.setVisible(false);
    }
    allNotes.setVisible(notesOpen);
    allNotes.setBounds(notesFill
                           ? whole(measures.margin(), top + 10.0f,
                                   static_cast<float>(getWidth()) - 2.0f * measures.margin(), bottom - top - 10.0f)
                           : views.getBounds());
}

void ReadPage::layOutMiddle(float top)
{
    const float margin = measures.margin(), width = static_cast<float>(getWidth());
    measured.setBounds(whole(margin, top, columns.width, columns.height));
    expected.setBounds(whole(width - margin - columns.width, top, columns.width, columns.height));
    difference.setBounds(whole((width - columns.middle) / 2.0f, top, columns.middle,
                               std::min(columns.height, measures.between(202, 309))));
}

void ReadPage::drawPictures()
{
    if (columns.width <= 0.0f)
        return;
    const float room = measures.between(17, 3); // where the row of the earphone's line cuts into the columns
    const juce::Point<float> column(columns.width, columns.height - room);
    auto left = sumPicture(measuredContent(view), column, measures, *fonts);
    auto right = sumPicture(expectedContent(view), column, measures, *fonts);
    const auto sides = sidedNotes(view);
    const auto noRoom = static_cast<std::size_t>(left.notesLeftOut + right.notesLeftOut);
    const std::size_t leftOut = noRoom + sides.standing.size();
    const char* further = noRoom < sides.underSums() ? "more " : "";
    measured.setPicture(std::move(left.picture));
    expected.setPicture(std::move(right.picture));
    difference.setPicture(differencePicture(view, sizeOf(difference), measures, *fonts));

    const float lineHeight = 18.0f;
    const float middle = static_cast<float>(difference.getBottom()) - measures.between(11, 9);
    const Pen pen(*fonts);
    const float nameRoom = columns.middle - 26.0f;
    earphone.setSize(measures.between(11, 12));
    earphone.setText(pen.shortened(earphoneWords(view), nameRoom, {measures.between(11, 12)}));
    earphone.setTitle(juce::String::fromUTF8(("On the coupler: " + earphoneWords(view)).c_str()));
    earphone.placeLeft((static_cast<float>(getWidth()) - earphone.wantedWidth()) / 2.0f, middle, lineHeight);

    more.setVisible(leftOut > 0 || notesOpen);
    more.setSize(measures.between(11, 12));
    more.setText(notesOpen ? "close the notes" : fmt::format("{} {}note{}", leftOut, further, leftOut == 1 ? "" : "s"));
    if (notesFill)
        more.placeRight(static_cast<float>(allNotes.getRight()) - 10.0f, static_cast<float>(allNotes.getY()) + 17.0f,
                        lineHeight);
    else
        more.placeRight(static_cast<float>(expected.getRight()) + 5.0f,
                        static_cast<float>(expected.getBottom()) - measures.between(11, 9), lineHeight);

    if (strip.isVisible())
        strip.setPicture(toneStripPicture(view, sizeOf(strip), measures, *fonts));
    if (views.isVisible())
        views.show(view, measures);
    if (allNotes.isVisible())
        allNotes.setPicture(notesPicture(sizeOf(allNotes)).picture);
}

ReadPage::Notes ReadPage::notesPicture(juce::Point<float> size) const
{
    Pen pen(*fonts);
    bool allThere = true;
    pen.box(juce::Rectangle<float>(size.x, size.y).reduced(0.5f), 6.0f, colours::card, colours::edge);
    const TextStyle style{measures.between(12, 13)};
    const float pitch = style.size + 4.0f, left = 34.0f, room = size.x - left - (notesFill ? 130.0f : 16.0f);
    float baseline = measures.between(20, 26);
    const auto sides = sidedNotes(view);
    for (const auto* side : {&sides.measured, &sides.expected, &sides.standing})
        for (const auto& note : *side) {
            const float height = pitch * static_cast<float>(pen.linesFor(note, room, style));
            if (baseline + height - pitch > size.y - 6.0f) {
                allThere = false;
                continue;
            }
            pen.mark(Mark::silent, 16.0f, baseline - 0.33f * style.size, 8.0f, colours::grey);
            pen.paragraph(note, left, baseline, room, pitch, 9, style);
            baseline += height + 2.0f;
        }
    return {std::move(pen.picture), allThere};
}

} // namespace couplet
