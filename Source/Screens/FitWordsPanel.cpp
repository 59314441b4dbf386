// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitWordsPanel.h"

#include <algorithm>

namespace couplet {
namespace {

constexpr float inset = 16.0f, ringRoom = 5.0f;

} // namespace

FitWordsPanel::FitWordsPanel(FitControls& c, const FitView& v) : controls(c), view(v)
{
    const std::initializer_list<juce::Component*> children{&card,      &words, &use,    &bare,  &none,
                                                           &useAnyway, &why,   &whatIf, &stored};
    for (auto* child : children)
        addAndMakeVisible(child);
    card.setTitle("Card of the result");
    use.onClick = useAnyway.onClick = [this] { controls.useCorrection(); };
    none.onClick = [this] { controls.useNoCorrection(); };
    bare.onClick = [this] { onBare(); };
    why.onClick = [this] { onWhy(); };
    whatIf.onClick = [this] { onWhatIf(); };
    bare.setTooltip("opens the Reference page");
    why.setTooltip("the statistics behind the result, and every note");
}

void FitWordsPanel::show(const Measures& m)
{
    measures = m;
    summary = fitSummary(view);
    resized();
}

void FitWordsPanel::resized()
{
    const auto area = getLocalBounds().toFloat();
    if (area.isEmpty())
        return;
    card.setBounds(getLocalBounds());
    Pen pen(*fonts);
    pen.box(area.reduced(0.5f), 6.0f, colours::card, colours::edge);
    card.setPicture(std::move(pen.picture));
    placeChips();

    // Its focus ring stands between the last line and the chips.
    const int bottom = why.getY() - juce::roundToInt(measures.between(-1, 2));
    words.setBounds(0, 0, getWidth(), bottom);
    std::vector<std::string> tags;
    if (view.simulated)
        tags.push_back("simulated");
    if (view.working)
        tags.push_back("working");
    auto drawn =
        fitWordsPicture(summary, tags, area.getWidth(), static_cast<float>(bottom) - ringRoom, measures, *fonts);
    words.setPicture(std::move(drawn.picture));
}

void FitWordsPanel::placeChips()
{
    const float height = measures.between(28, 34), size = measures.between(12, 14);
    const float middle = static_cast<float>(getHeight()) - measures.between(20, 28);
    for (Chip* chip : {&use, &bare, &none, &useAnyway, &why, &whatIf})
        chip->setSize(size);
    use.setText(summary.use);
    use.setEnabled(summary.canUse && !view.working);
    use.setTooltip(juce::String::fromUTF8(view.whyNotUse.c_str()));
    // One thing to do: first the correction goes, then the reference is taken.
    none.setVisible(summary.offersBare && view.canUseNone);
    bare.setVisible(summary.offersBare && !view.canUseNone);
    use.setVisible(!summary.offersBare);
    useAnyway.setVisible(summary.offersBare && summary.canUse && !view.working);
    const auto notes = notesWords(view);
    why.setText(notes.empty() ? "why?" : "why? " + notes);
    const bool narrow = measures.width < 900.0f;
    whatIf.setText(narrow ? "more readings?" : "what would more readings do?");
    float x = inset;
    const auto place = [&](Chip& chip, float widthBesides, float gap) {
        if (!chip.isVisible())
            return;
        chip.setBounds(juce::Rectangle<float>(x, middle - height / 2.0f, chip.wantedWidth() + widthBesides, height)
                           .toNearestInt());
        x = static_cast<float>(chip.getRight()) + gap;
    };
    for (Chip* chip : {&bare, &none, &use})
        place(*chip, measures.between(0, 22), 13.0f);
    place(useAnyway, 0.0f, measures.between(4, 14));
    place(why, 0.0f, measures.between(4, 14));
    place(whatIf, 0.0f, 8.0f);

    stored.setBounds(
        juce::Rectangle<float>(x, middle - height / 2.0f, static_cast<float>(getWidth()) - inset - x, height)
            .toNearestInt());
    Pen pen(*fonts);
    const TextStyle grey{measures.between(11, 12), false, colours::grey};
    auto text = storedWords(view);
    const float room = static_cast<float>(stored.getWidth());
    if (pen.width(text, grey) > room)
        text = text.substr(std::min(text.size(), std::string("in the coupler ").size()));
    if (room > 90.0f)
        pen.right(pen.shortened(text, room, grey), room, height / 2.0f + 0.36f * grey.size, room, grey);
    stored.setPicture(std::move(pen.picture));
    stored.setVisible(!stored.picture().texts.empty());
}

} // namespace couplet
