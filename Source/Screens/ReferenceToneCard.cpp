// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ReferenceToneCard.h"

#include "Screens/Pen.h"
#include "Screens/ReferenceTonePicture.h"
#include "Screens/ReferenceWords.h"

namespace couplet {
namespace {

// What it came to was read; the tone goes on.
ReferenceView withoutCheck(ReferenceView view)
{
    view.state = CaptureState::idle;
    view.notice.clear();
    return view;
}

} // namespace

ReferenceToneCard::ReferenceToneCard()
{
    setTitle("State of the capture");
    setWantsKeyboardFocus(true);
    addAndMakeVisible(canvas);
    canvas.setTitle("Fitness of the tone and state of the capture");
    addChildComponent(take);
    addChildComponent(close);
    take.setTooltip("starts one, seatings and all");
    close.setTooltip("back to the checks on the tone (escape)");
    take.onClick = [this] {
        if (controls != nullptr)
            controls->takeReference();
    };
    close.onClick = [this] { closeCheck(); };
}

void ReferenceToneCard::show(const ReferenceView& next)
{
    if (next.canCancel || !next.check)
        checkClosed = false; // the next one is seen again
    view = next;
    draw();
}

bool ReferenceToneCard::closeCheck()
{
    if (!showsCheck())
        return false;
    checkClosed = true;
    draw();
    return true;
}

void ReferenceToneCard::resized()
{
    draw();
}

void ReferenceToneCard::draw()
{
    if (getWidth() <= 0)
        return;
    const bool checked = showsCheck();
    const auto size = getLocalBounds().getBottomRight().toFloat();
    canvas.setBounds(getLocalBounds());
    setDescription(juce::String::fromUTF8(stateSign(view).words.c_str()));
    take.setVisible(checked);
    take.setEnabled(view.canTake);
    close.setVisible(checked);
    float bottom = size.y;
    if (checked) {
        const float inset = measures.between(11, 16), height = measures.between(18, 22);
        const float middle = size.y - measures.between(6, 10) - height / 2.0f;
        for (Chip* chip : {&take, &close})
            chip->setSize(measures.between(11.5f, 13));
        take.placeLeft(inset - 5.0f, middle, height);
        close.placeRight(size.x - inset + 5.0f, middle, height);
        bottom = middle - height / 2.0f - 2.0f;
    }
    Pen pen(*fonts);
    pen.picture = checked ? quickCheckPicture(*view.check, size, bottom, measures, *fonts)
                          : referenceTonePicture(checkClosed ? withoutCheck(view) : view, size, measures, *fonts);
    if (hasKeyboardFocus(false))
        drawFocusRing(pen, getLocalBounds().toFloat());
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
