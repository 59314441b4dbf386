// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitCapturePanel.h"

namespace couplet {
namespace {

constexpr float ringRoom = 5.0f; // below the last line, for the focus ring

} // namespace

FitCapturePanel::FitCapturePanel(FitControls& c, const FitView& v) : controls(c), view(v)
{
    addAndMakeVisible(large);
    for (Chip* chip : {&one, &next, &end})
        addAndMakeVisible(*chip);
    one.onClick = [this] { controls.takeFitReading(); };
    next.onClick = [this] { controls.nextFitTarget(); };
    end.onClick = [this] { controls.captureFitReadings(false); };
    one.setTooltip("space bar");
    next.setTooltip("key N");
    end.setTooltip("key G, or escape");
}

void FitCapturePanel::show(const Measures& m)
{
    const bool restyled = !(m == measures);
    measures = m;
    if (restyled)
        resized();
    else
        draw();
}

void FitCapturePanel::flash()
{
    flashes = true;
    startTimer(flash_ms);
}

void FitCapturePanel::endFlash()
{
    stopTimer();
    flashes = false;
    draw();
    if (onFlashEnds)
        onFlashEnds();
}

void FitCapturePanel::resized()
{
    const float middle = static_cast<float>(getHeight()) - measures.between(14, 22), height = measures.between(22, 26);
    float x = 11.0f;
    for (Chip* chip : {&one, &next, &end}) {
        chip->setSize(measures.between(12, 13));
        chip->placeLeft(x, middle, height);
        x = static_cast<float>(chip->getRight()) + measures.between(4, 12);
    }
    large.setBounds(getLocalBounds().withBottom(one.getY() + 2));
    draw();
}

void FitCapturePanel::draw()
{
    if (large.getHeight() <= 0)
        return;
    const juce::Point<float> size(static_cast<float>(getWidth()), static_cast<float>(large.getHeight()));
    large.setPicture(fitCapturePicture(view, flashes, size, size.y - ringRoom, measures, *fonts));
}

} // namespace couplet
