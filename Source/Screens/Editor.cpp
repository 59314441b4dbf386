// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Editor.h"

#include "Screens/Measures.h"

namespace couplet {

Editor::Editor(Processor& p) : juce::AudioProcessorEditor(p), bench(p), view(p, &p.library())
{
    addAndMakeVisible(view);
    view.useReferences(&p);
    view.connectFit(p);
    // Alone it passes nothing on, so that there is nothing to warn of.
    view.warnOfMonitoring(p.wrapperType != juce::AudioProcessor::wrapperType_Standalone);
    setResizable(true, true);
    setResizeLimits(smallestWidth, smallestHeight, largestWidth, largestHeight);
    setSize(usualWidth, usualHeight);
    timerCallback();
    startTimerHz(20);
}

Editor::~Editor()
{
    bench.editorBeingDeleted(this);
}

void Editor::resized()
{
    view.setBounds(getLocalBounds());
}

void Editor::timerCallback()
{
    const LibraryView& couplers = bench.library().view();
    if (shownLibrary != couplers.revision) {
        shownLibrary = couplers.revision;
        view.showLibrary(couplers);
    }
    const ReferenceView& reference = bench.referenceView();
    if (shownReference != reference.revision) {
        shownReference = reference.revision;
        view.showReference(reference);
    }
    const FitView& fit = bench.fitView();
    if (shownFit != fit.revision) {
        shownFit = fit.revision;
        view.showFit(fit);
    }
    const LiveView& latest = bench.view();
    if (shownRevision == latest.revision)
        return;
    shownRevision = latest.revision;
    view.show(latest);
}

} // namespace couplet
