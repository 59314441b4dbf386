// SPDX-License-Identifier: GPL-3.0-or-later
//
// Places and keys of ReferencePage.
#include "Screens/ReferencePage.h"

#include "Screens/Pen.h"

namespace couplet {
namespace {

using Key = juce::KeyPress;
using What = ReferenceSheet::What;

constexpr const char* question = "What does full scale stand for at this microphone?";
constexpr const char* advice = "Seat the calibrator on the coupler and switch it on. The offset follows from its "
                               "certified level.";

} // namespace

float ReferencePage::barsHeight(float width) const
{
    return heightOfBars({loop.heightFor(width), notice.heightFor(width), simulated.heightFor()});
}

float ReferencePage::layOutBars(float width)
{
    const float y = placeBars(
        {{loop, loop.heightFor(width)}, {notice, notice.heightFor(width)}, {simulated, simulated.heightFor()}},
        measures.margin(), 10.0f, width);
    barsShown = barsHeight(width);
    return barsShown > 0.0f ? y : 0.0f;
}

void ReferencePage::layOut()
{
    const float margin = measures.margin(), width = static_cast<float>(getWidth()) - 2.0f * margin;
    if (width <= 0.0f)
        return;
    const float barsBottom = layOutBars(width), gap = measures.between(6, 16);
    float bottom = static_cast<float>(getHeight()) - measures.between(6, 11);
    const float barHeight = bar.heightFor(width);
    bar.setVisible(barHeight > 0.0f);
    if (barHeight > 0.0f) {
        bar.setBounds(whole(margin, bottom - barHeight, width, barHeight));
        bottom -= barHeight + gap;
    }
    bar.resized();

    // The question gives way before a card does.
    const float least = measures.between(232, 304), lowerLeast = measures.between(92, 110);
    const float asking = measures.between(26, 71);
    const bool asks = bottom - barsBottom - asking - gap >= least + lowerLeast;
    const float top = asks ? barsBottom + asking : std::max(barsBottom, 8.0f);
    drawHead(barsBottom, asks);
    const float room = bottom - top - gap;
    const float upper = std::clamp(room - measures.between(106, 150), std::min(least, room),
                                   measures.between(240, 330) + std::max(0.0f, measures.height - 760.0f) / 2.0f);
    const float lower = room - upper;
    budget.setVisible(lower >= 40.0f);
    const float cards = budget.isVisible() ? upper : bottom - top;
    const float across = width - 2.0f * gap;
    const float left = std::round(across * (0.34f - 0.014f * measures.ease));
    const float right = std::round(across * (0.33f + 0.0475f * measures.ease)), middle = across - left - right;
    sum.setBounds(whole(margin, top, left, cards));
    tone.setBounds(whole(margin + left + gap, top, middle, cards));
    history.setBounds(whole(margin + left + middle + 2.0f * gap, top, right, cards));
    budget.setBounds(whole(margin, top + upper + gap, width, lower));
    sheet.setBounds(whole(margin, barsBottom, width, bottom - barsBottom));
    const std::initializer_list<juce::Component*> parts{&head, &sum, &tone, &history};
    for (auto* part : parts)
        part->setVisible(!sheet.isVisible());
    budget.setVisible(budget.isVisible() && !sheet.isVisible());
    sheet.resized();
    fill();
}

void ReferencePage::drawHead(float top, bool there)
{
    Pen pen(*fonts);
    const float width = static_cast<float>(getWidth()), margin = measures.margin();
    head.setBounds(whole(0.0f, top, width, there ? measures.between(26, 71) : 0.0f));
    if (there)
        pen.left(question, margin, measures.between(19, 33), width - 2.0f * margin, {measures.between(14, 16), true});
    const TextStyle grey{13.0f, false, colours::grey};
    if (there && head.getHeight() >= 62)
        pen.left(advice, margin, measures.between(40, 55), width - 2.0f * margin, grey);
    head.setPicture(std::move(pen.picture));
}

bool ReferencePage::keyPressed(const juce::KeyPress& key)
{
    if (key.getModifiers().isCommandDown())
        return commandKey(key);
    if (key.getModifiers().isAltDown())
        return false;
    if (key.isKeyCode(Key::escapeKey)) {
        if (sheet.isVisible())
            openSheet(What::nothing);
        else if (view.canCancel && controls != nullptr)
            controls->cancelReference();
        else if (view.waits_dB && controls != nullptr)
            controls->undoReference();
        else
            return tone.closeCheck();
        return true;
    }
    if (key.isKeyCode(Key::deleteKey) && !sheet.isVisible())
        history.aside.start();
    else if (key.isKeyCode(Key::returnKey) && view.canTake && !sheet.isVisible() && controls != nullptr)
        controls->takeReference();
    else if (key.isKeyCode(Key::spaceKey) && view.canFinish && controls != nullptr)
        controls->finishSeatings();
    else
        return (!sheet.isVisible() && sum.keyPressed(key)) || letterKey(key);
    return true;
}

bool ReferencePage::letterKey(const juce::KeyPress& key)
{
    const auto letter = juce::CharacterFunctions::toUpperCase(static_cast<juce::juce_wchar>(key.getKeyCode()));
    const auto typed = key.getTextCharacter();
    const juce::juce_wchar digit = typed >= '1' && typed <= '9' ? typed : letter;
    if (letter == 'T' && !view.history.points.empty())
        openSheet(What::history);
    else if (letter == 'B')
        openSheet(What::budget);
    else if (letter == 'N')
        openSheet(What::remarks);
    else // below a sheet nothing is begun unseen
        return controls != nullptr && !view.canCancel && !sheet.isVisible() && beginKey(letter, digit);
    return true;
}

bool ReferencePage::beginKey(juce::juce_wchar letter, juce::juce_wchar digit)
{
    if (letter == 'A' && view.canTake)
        controls->takeReferenceHandsFree();
    else if (letter == 'K' && view.canTake)
        controls->checkReference();
    else if (letter == 'M' && view.waits_dB)
        controls->keepMovedReference();
    else if (letter == 'L' && view.canTake)
        controls->hearSecondLevel();
    else if (digit >= '1' && digit <= '9')
        controls->setSeatings(static_cast<int>(digit - '0'));
    else
        return false;
    return true;
}

bool ReferencePage::commandKey(const juce::KeyPress& key)
{
    const auto letter = juce::CharacterFunctions::toUpperCase(static_cast<juce::juce_wchar>(key.getKeyCode()));
    if (letter == 'Z' && view.canUndo && controls != nullptr)
        controls->undoReference();
    else if (letter == 'S')
        askExport();
    else
        return false;
    return true;
}

} // namespace couplet
