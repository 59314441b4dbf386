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

Stage::Stage(Controls& c, LibraryControls* l) : controls(c), library(l), header(c), read(c), reference(c)
{
    addAndMakeVisible(header);
    addChildComponent(question);
    addAndMakeVisible(read);
    addChildComponent(reference);
    for (std::size_t i = 0; i < others.size(); ++i) {
        others[i] = std::make_unique<DescriptionPage>(static_cast<Page>(i + firstDescribed));
        addChildComponent(*others[i]);
    }
    addAndMakeVisible(footer);
    footer.setTitle("Advice");
    addChildComponent(far);
    header.onPage = [this](Page next) { openByTab(next); };
    header.onFarView = [this] { setFarView(true); };
    far.onLeave = [this] { setFarView(false); };
    addChildComponent(conflict);
    if (library == nullptr)
        return;
    chooser = std::make_unique<ChooserSheet>(controls, *library);
    addChildComponent(*chooser);
    header.onChooser = [this] { openChooser(true); };
    chooser->onClose = [this] { openChooser(false); };
    chooser->onQuestion = [this](const ProfileQuestion& q) { askAbout(q); };
    question.onLook = [this](const ProfileQuestion& q) {
        if (q.state == ProfileState::notInLibrary)
            answer(q, ProfileAnswer::keepSessions);
        else
            askAbout(q);
    };
    question.onLeave = [this](const ProfileQuestion& q) { answer(q, ProfileAnswer::leaveBoth); };
    conflict.onAnswer = [this](const ProfileQuestion& q, ProfileAnswer a) { answer(q, a); };
    conflict.onClose = [this] { closeConflict(); };
}

void Stage::showLibrary(const LibraryView& next)
{
    couplers = next;
    if (chooser != nullptr)
        chooser->showLibrary(couplers);
    const bool had = asks();
    question.show(couplers);
    if (had != asks())
        resized();
}

void Stage::connectFit(FitControls& fitControls)
{
    fit = std::make_unique<FitPage>(fitControls, controls);
    addChildComponent(*fit);
    fit->onReference = [this] { setPage(Page::reference); };
    showPages();
    resized();
}

void Stage::showFit(const FitView& next)
{
    if (fit != nullptr)
        fit->show(next);
}

void Stage::openChooser(bool open)
{
    if (chooser == nullptr || open == chooserOpen)
        return;
    chooserOpen = open;
    if (open)
        far.setVisible(false);
    showPages();
    if (open) {
        chooser->show(view);
        chooser->showLibrary(couplers);
        chooser->open();
        return;
    }
    show(view);
    if (header.isShowing())
        header.focusChooser();
}

void Stage::askAbout(const ProfileQuestion& asked)
{
    conflict.setVisible(true);
    showPages();
    conflict.ask(asked);
}

// Back to where the question was opened from.
void Stage::closeConflict()
{
    conflict.setVisible(false);
    showPages();
    show(view);
    if (chooserOpen)
        chooser->showLibrary(couplers);
}

void Stage::answer(const ProfileQuestion& asked, ProfileAnswer meant)
{
    library->answer(asked, meant);
    if (conflict.isVisible())
        closeConflict();
}

void Stage::show(const LiveView& next)
{
    const bool asked = asks();
    view = next;
    if (asked != asks())
        resized();
    if (far.isVisible()) {
        far.show(view);
        return;
    }
    if (chooser != nullptr)
        chooser->show(view);
    if (hasSheet())
        return;
    header.show(view);
    if (page == Page::read)
        read.show(view);
    if (page == Page::reference)
        reference.show(view);
    if (page == Page::fit && fit != nullptr)
        fit->show(view);
}

void Stage::showReference(const ReferenceView& next)
{
    reference.show(next);
}

// On into the page: Return takes a reference there.
void Stage::openByTab(Page next)
{
    setPage(next);
    if (next == Page::reference)
        reference.focusTake();
}

// Hands-free, a page that nobody sees would go on writing readings down.
void Stage::setPage(Page next)
{
    if (page == Page::fit && next != Page::fit && fit != nullptr)
        fit->endCapture();
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
    // What the far view or a sheet hides neither paints nor takes the keyboard.
    const bool near = !far.isVisible() && !hasSheet();
    if (chooser != nullptr)
        chooser->setVisible(chooserOpen && !conflict.isVisible());
    header.setVisible(near);
    question.setVisible(near && asks());
    footer.setVisible(near);
    read.setVisible(near && page == Page::read);
    reference.setVisible(near && page == Page::reference);
    for (std::size_t i = 0; i < others.size(); ++i)
        others[i]->setVisible(near && page == static_cast<Page>(i + firstDescribed) &&
                              !(page == Page::fit && fit != nullptr));
    if (fit != nullptr)
        fit->setVisible(near && page == Page::fit);
}

void Stage::resized()
{
    measures = Measures::of(static_cast<float>(getWidth()), static_cast<float>(getHeight()));
    const auto whole = getLocalBounds();
    auto area = whole;
    far.setBounds(area);
    header.setBounds(area.removeFromTop(juce::roundToInt(Header::height(measures))));
    conflict.setMeasures(measures);
    conflict.setBounds(whole);
    conflict.resized();
    if (chooser != nullptr) {
        chooser->setMeasures(measures);
        chooser->setBounds(whole);
        chooser->resized();
    }
    footer.setBounds(area.removeFromBottom(juce::roundToInt(measures.between(34, 41))));
    const int bar = asks() ? juce::roundToInt(question.heightFor()) : 0;
    question.setVisible(bar > 0 && header.isVisible());
    if (bar > 0)
        question.setBounds(
            area.removeFromTop(bar + 8).withTrimmedTop(8).reduced(juce::roundToInt(measures.margin()), 0));
    read.setMeasures(measures);
    read.setBounds(area);
    reference.setMeasures(measures);
    reference.setBounds(area);
    for (auto& other : others) {
        other->setMeasures(measures);
        other->setBounds(area);
        other->resized(); // the measures may have changed alone
    }
    if (fit != nullptr) {
        fit->setMeasures(measures);
        fit->setBounds(area);
        fit->resized();
    }
    read.resized();
    reference.resized();
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
