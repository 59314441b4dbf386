// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitWhatIfPanel.h"

#include "Screens/FitForm.h"

namespace couplet {
namespace {

constexpr float inset = 16.0f, fieldWidth = 66.0f;
constexpr double largestU_dB = 20.0;

} // namespace

FitWhatIfPanel::FitWhatIfPanel(FitControls& c, const FitView& v) : controls(c), view(v)
{
    const std::initializer_list<juce::Component*> children{&answers, &label, &wanted, &work};
    for (auto* child : children)
        addAndMakeVisible(child);
    label.setTitle("Wanted uncertainty");
    wanted.setHint("0.30");
    wanted.setInputRestrictions(20);
    wanted.onReturnKey = [this] { ask(); };
    wanted.onEscapeKey = [this] { onClose(); };
    work.onClick = [this] { ask(); };
    answers.onClose = [this] { onClose(); };
}

void FitWhatIfPanel::open()
{
    refusal.clear();
    if (wanted.isShowing())
        wanted.grabKeyboardFocus();
}

void FitWhatIfPanel::ask()
{
    const auto typed = typedDecibels(wanted.words());
    refusal.clear();
    if (!typed)
        refusal = typed.fault().sentence;
    else if (!(*typed > 0.0 && *typed <= largestU_dB))
        refusal = "U is above 0 and at most 20 dB, such as 0.30.";
    else
        controls.askWhatIf(*typed);
    resized();
}

void FitWhatIfPanel::show(const Measures& m)
{
    measures = m;
    resized();
    answers.show(whatIfParagraphs(view), m);
}

void FitWhatIfPanel::resized()
{
    if (getHeight() <= 0)
        return;
    answers.setHeadRoom(measures.between(30, 36) + (refusal.empty() ? 0.0f : 18.0f));
    answers.setBounds(getLocalBounds());
    answers.resized();
    drawField();
}

void FitWhatIfPanel::drawField()
{
    const float top = measures.between(25, 32), height = measures.between(24, 26), middle = top + height / 2.0f;
    label.setBounds(0, juce::roundToInt(top), getWidth(), juce::roundToInt(height + 22.0f));
    Pen pen(*fonts);
    const TextStyle plain{measures.between(12, 13)};
    const std::string words = "wanted U, dB";
    const float width = pen.width(words, plain) + 1.0f;
    pen.left(words, inset, height / 2.0f + 0.36f * plain.size, width, plain);
    if (!refusal.empty()) {
        const float room = static_cast<float>(getWidth()) - 2.0f * inset;
        const TextStyle small{measures.between(11, 12)};
        pen.left(pen.shortened(refusal, room, small), inset, height + 15.0f, room, small);
    }
    label.setPicture(std::move(pen.picture));
    wanted.setBounds(juce::Rectangle<float>(inset + width + 8.0f, top, fieldWidth, height).toNearestInt());
    work.setSize(measures.between(12, 13));
    work.placeLeft(static_cast<float>(wanted.getRight()) + 6.0f, middle, height);
}

} // namespace couplet
