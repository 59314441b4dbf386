// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Stage.h"

#include "Screens/Pen.h"

namespace couplet {

FarView::FarView()
{
    addAndMakeVisible(canvas);
    canvas.setTitle("Far view");
    setOpaque(true);
    setTitle("Far view");
}

void FarView::show(const LiveView& next)
{
    view = next;
    if (isVisible()) // else it is drawn when it opens
        canvas.setPicture(farPicture(view, getLocalBounds().getBottomRight().toFloat(), *fonts));
}

void FarView::resized()
{
    canvas.setBounds(getLocalBounds());
    show(view);
}

void FarView::mouseDown(const juce::MouseEvent&)
{
    if (onLeave)
        onLeave();
}

Stage::Stage(Controls& controls) : header(controls), read(controls)
{
    addAndMakeVisible(header);
    addAndMakeVisible(read);
    for (std::size_t i = 0; i < others.size(); ++i) {
        others[i] = std::make_unique<DescriptionPage>(static_cast<Page>(i + 1));
        addChildComponent(*others[i]);
    }
    addAndMakeVisible(footer);
    footer.setTitle("Advice");
    addChildComponent(far);
    header.onPage = [this](Page next) { setPage(next); };
    header.onFarView = [this] { setFarView(true); };
    far.onLeave = [this] { setFarView(false); };
}

void Stage::show(const LiveView& next)
{
    view = next;
    if (far.isVisible()) {
        far.show(view);
        return;
    }
    header.show(view);
    if (page == Page::read)
        read.show(view);
}

void Stage::setPage(Page next)
{
    page = next;
    header.setPage(page);
    showPages();
    drawFooter();
    show(view);
}

void Stage::setFarView(bool on)
{
    far.setVisible(on);
    if (on)
        far.toFront(false);
    showPages();
    show(view);
}

void Stage::showPages()
{
    // What the far view hides neither paints nor takes the keyboard.
    const bool near = !far.isVisible();
    header.setVisible(near);
    footer.setVisible(near);
    read.setVisible(near && page == Page::read);
    for (std::size_t i = 0; i < others.size(); ++i)
        others[i]->setVisible(near && page == static_cast<Page>(i + 1));
}

void Stage::resized()
{
    measures = Measures::of(static_cast<float>(getWidth()), static_cast<float>(getHeight()));
    auto area = getLocalBounds();
    far.setBounds(area);
    header.setBounds(area.removeFromTop(juce::roundToInt(Header::height(measures))));
    footer.setBounds(area.removeFromBottom(juce::roundToInt(measures.between(34, 41))));
    read.setMeasures(measures);
    read.setBounds(area);
    for (auto& other : others) {
        other->setMeasures(measures);
        other->setBounds(area);
        other->resized(); // the measures may have changed alone
    }
    read.resized();
    drawFooter();
}

void Stage::drawFooter()
{
    Pen pen(*fonts);
    const float margin = measures.margin(), width = static_cast<float>(getWidth());
    pen.line(margin, 0.5f, width - margin, 0.5f, colours::edge, 1.0f);
    pen.left(footerOf(page), margin, measures.between(20, 25), width - 2.0f * margin,
             {measures.between(12, 13), false, colours::grey});
    footer.setPicture(std::move(pen.picture));
}

} // namespace couplet
