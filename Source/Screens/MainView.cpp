// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/MainView.h"

#include "Screens/Stage.h"

namespace couplet {

MainView::MainView(Controls& c, LibraryControls* library) : controls(c), stage(std::make_unique<Stage>(c, library))
{
    setLookAndFeel(&look);
    setOpaque(true);
    setTitle("Couplet");
    setWantsKeyboardFocus(true);
    addAndMakeVisible(*stage);
}

MainView::~MainView()
{
    setLookAndFeel(nullptr);
}

void MainView::show(const LiveView& view)
{
    stage->show(view);
}

void MainView::showLibrary(const LibraryView& view)
{
    stage->showLibrary(view);
}

void MainView::showReference(const ReferenceView& view)
{
    stage->showReference(view);
}

void MainView::useReferences(ReferenceControls* references)
{
    referencePage().useReferences(references);
}

ReferencePage& MainView::referencePage()
{
    return stage->referencePage();
}

void MainView::connectFit(FitControls& fit)
{
    stage->connectFit(fit);
}

void MainView::showFit(const FitView& view)
{
    stage->showFit(view);
}

void MainView::openChooser(bool open)
{
    stage->openChooser(open);
}

bool MainView::showsChooser() const
{
    return stage->showsChooser();
}

void MainView::askAbout(const ProfileQuestion& question)
{
    stage->askAbout(question);
}

bool MainView::isInterestedInFileDrag(const juce::StringArray&)
{
    return stage->chooserSheet() != nullptr || stage->fitPage() != nullptr;
}

void MainView::filesDropped(const juce::StringArray& files, int, int)
{
    std::vector<std::filesystem::path> paths;
    for (const auto& file : files)
        paths.emplace_back(file.toStdString());
    if (auto* fit = stage->fitPage(); fit != nullptr)
        return fit->dropped(paths);
    openChooser(true);
    stage->chooserSheet()->dropped(paths);
}

void MainView::warnOfMonitoring(bool warns)
{
    stage->warnOfMonitoring(warns);
}

void MainView::openPage(int index)
{
    stage->setPage(static_cast<Page>(juce::jlimit(0, static_cast<int>(pages) - 1, index)));
}

void MainView::setFarView(bool on)
{
    stage->setFarView(on);
}

bool MainView::showsFarView() const
{
    return stage->showsFarView();
}

void MainView::openEarphoneChoices(bool open)
{
    stage->readPage().openChoices(open);
}

void MainView::openNotes(bool open)
{
    stage->readPage().openNotes(open);
}

void MainView::openView(int index)
{
    stage->readPage().viewPanel().choose(
        static_cast<BenchView>(juce::jlimit(0, static_cast<int>(benchViews) - 1, index)));
}

void MainView::paint(juce::Graphics& g)
{
    g.fillAll(colours::paper);
}

void MainView::resized()
{
    const float width = static_cast<float>(getWidth()), height = static_cast<float>(getHeight());
    float scale = std::max(1.0f, std::min(width / usualWidth, height / usualHeight));
    if (width < smallestWidth || height < smallestHeight) // a host may not ask for the limits
        scale = std::max(0.1f, std::min(width / smallestWidth, height / smallestHeight));
    stage->setTransform(juce::AffineTransform::scale(scale));
    stage->setBounds(0, 0, juce::roundToInt(width / scale), juce::roundToInt(height / scale));
}

bool MainView::keyPressed(const juce::KeyPress& key)
{
    const auto letter = juce::CharacterFunctions::toLowerCase(static_cast<juce::juce_wchar>(key.getKeyCode()));
    const bool plain = !key.getModifiers().isAnyModifierKeyDown() || key.getModifiers().isShiftDown();
    if (stage->hasSheet())
        return false;
    if (auto* fit = stage->fitPage(); fit != nullptr && fit->keyPressed(key))
        return true;
    if (plain && letter == 'c')
        openChooser(true);
    else if (plain && letter == 'f')
        setFarView(!showsFarView());
    else if (plain && letter == 'h')
        controls.setHold(!stage->holds());
    else if (plain && letter == 's' && stage->readPage().isVisible() && stage->readPage().viewPanel().isVisible())
        stage->readPage().viewPanel().step();
    else if (key.isKeyCode(juce::KeyPress::escapeKey) && showsFarView())
        setFarView(false);
    else if (stage->referencePage().isVisible())
        return stage->referencePage().keyPressed(key);
    else
        return false;
    return true;
}

} // namespace couplet
