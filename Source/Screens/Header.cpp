// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Header.h"

#include "Screens/Words.h"

namespace couplet {
namespace {

constexpr float margin = 28.0f;
constexpr const char* pageNames[pages] = {"Read", "Reference", "Fit", "Earphones", "Record"};
// The microphone is passed on: whoever listens to it through loudspeakers closes a loop. What the parameter 'Pass the
// input on' makes of that, in its order.
constexpr const char* warnings[] = {"the input is not passed on", "do not monitor this track",
                                    "no guard: do not monitor"};

void referenceMark(Pen& pen, Mark mark, float x, float baseline, float size)
{
    pen.mark(mark, x, baseline - 0.35f * size, 11.0f, colours::ink);
}

} // namespace

Header::Header(Controls& c) : controls(c), chooser(c), mark(Mark::silent)
{
    addAndMakeVisible(canvas);
    canvas.setTitle("State of the coupler and the inputs");
    addAndMakeVisible(chooser);
    chooser.onOpen = [this] {
        if (onChooser)
            onChooser();
    };
    for (std::size_t i = 0; i < pages; ++i) {
        tabs[i] = std::make_unique<Chip>(Chip::Kind::choice, pageNames[i]);
        tabs[i]->onClick = [this, i] {
            if (onPage)
                onPage(static_cast<Page>(i));
        };
        addAndMakeVisible(*tabs[i]);
    }
    hold.setTooltip("the numbers stand still (key H)");
    hold.onClick = [this] { controls.setHold(!hold.getToggleState()); };
    far.setTooltip("to be read from metres away (key F)");
    far.onClick = [this] {
        if (onFarView)
            onFarView();
    };
    addAndMakeVisible(hold);
    addAndMakeVisible(far);
    setPage(page);
}

void Header::show(const LiveView& view)
{
    chooser.show(view);
    hold.setOn(view.hold);
    const auto words = referenceWords(view);
    mark = words.mark;
    passInput = view.passInput;
    reference = words.words;
    offset = offsetWords(view);
    inputs =
        view.microphoneText + (view.microphoneText.empty() || view.driveText.empty() ? "" : "   ") + view.driveText;
    canvas.setPicture(texts());
}

void Header::setPage(Page next)
{
    page = next;
    for (std::size_t i = 0; i < pages; ++i)
        tabs[i]->setOn(static_cast<Page>(i) == page);
}

void Header::warnOfMonitoring(bool next)
{
    warns = next;
    canvas.setPicture(texts());
}

void Header::placeTabs(float middle, float height)
{
    float x = margin;
    for (auto& tab : tabs) {
        tab->placeLeft(x, middle, height);
        x += static_cast<float>(tab->getWidth()) + 14.0f;
    }
}

void Header::resized()
{
    const auto m = Measures::of(static_cast<float>(getWidth()), usualHeight);
    canvas.setBounds(getLocalBounds());
    const float right = m.width - margin;
    if (m.wide()) {
        chooser.setBounds(140, 16, 330, 32);
        placeTabs(77.0f, 30.0f);
        far.placeRight(right - 215.0f, 77.0f, 26.0f);
    }
    else {
        chooser.setBounds(104, 9, 252, 28);
        placeTabs(56.0f, 26.0f);
        far.placeRight(right, 56.0f, 24.0f);
    }
    hold.placeRight(static_cast<float>(far.getX()) - 4.0f, static_cast<float>(far.getBounds().getCentreY()),
                    static_cast<float>(far.getHeight()));
    canvas.setPicture(texts());
}

Picture Header::texts() const
{
    Pen pen(*fonts);
    const float width = static_cast<float>(getWidth()), bottom = static_cast<float>(getHeight()) - 1.0f;
    Measures::of(width, usualHeight).wide() ? wideTexts(pen) : narrowTexts(pen);
    pen.line(margin, bottom, width - margin, bottom, colours::edge, 1.0f);
    return pen.picture;
}

void Header::wideTexts(Pen& pen) const
{
    const TextStyle plain{13.0f, false, colours::grey};
    const float right = static_cast<float>(getWidth()) - margin;
    pen.left("Couplet", margin, 38.0f, 106.0f, {20.0f, true});
    referenceMark(pen, mark, 490.0f, 37.0f, 14.0f);
    const TextStyle strong{14.0f};
    pen.left(reference, 506.0f, 37.0f, pen.width(reference, strong), strong);
    const float offsetLeft = std::max(665.0f, 506.0f + pen.width(reference, strong) + 18.0f);
    pen.left(offset, offsetLeft, 37.0f, pen.width(offset, plain), plain);
    // Long names of the inputs go below the offset rather than into it.
    const bool fits = offsetLeft + pen.width(offset, plain) + 18.0f < right - pen.width(inputs, plain);
    pen.right(inputs, right, fits ? 37.0f : 56.0f, pen.width(inputs, plain), plain);
    if (warns)
        warningText(pen, right, 82.0f, 13.0f);
}

void Header::narrowTexts(Pen& pen) const
{
    const TextStyle plain{12.0f, false, colours::grey};
    const float right = static_cast<float>(getWidth()) - margin;
    pen.left("Couplet", margin, 29.0f, 74.0f, {18.0f, true});
    referenceMark(pen, mark, 368.0f, 28.0f, 13.0f);
    const TextStyle strong{13.0f};
    pen.left(reference, 384.0f, 28.0f, pen.width(reference, strong), strong);
    pen.right(offset, right, 28.0f, pen.width(offset, plain), plain);
    pen.left(inputs, margin, 88.0f, pen.width(inputs, plain), plain);
    if (warns)
        warningText(pen, right, 88.0f, 12.0f);
}

void Header::warningText(Pen& pen, float right, float baseline, float size) const
{
    const char* words = warnings[static_cast<std::size_t>(passInput)];
    const bool isSafe = passInput == PassInput::notAtAll;
    const TextStyle style{size, false, isSafe ? colours::grey : colours::ink};
    const float width = pen.width(words, style);
    pen.right(words, right, baseline, width, style);
    if (!isSafe)
        pen.mark(Mark::attention, right - width - 18.0f, baseline - 0.35f * size, 12.0f, colours::ink);
}

bool Header::keyPressed(const juce::KeyPress& key)
{
    const int direction = key.isKeyCode(juce::KeyPress::rightKey) ? 1 : key.isKeyCode(juce::KeyPress::leftKey) ? -1 : 0;
    const int next = static_cast<int>(page) + direction;
    if (direction == 0 || next < 0 || next >= static_cast<int>(pages) || !onPage)
        return false;
    onPage(static_cast<Page>(next));
    if (isShowing())
        tabs[static_cast<std::size_t>(next)]->grabKeyboardFocus();
    return true;
}

} // namespace couplet
