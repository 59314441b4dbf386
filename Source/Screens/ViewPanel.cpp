// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ViewPanel.h"

namespace couplet {
namespace {

constexpr float chipsLeft = 11.0f, chipHeight = 20.0f; // their words start where a plot's do

struct Choice
{
    const char *name, *hint;
};
constexpr Choice choices[benchViews] = {
    {"Last 60 s", "the tone's level over the last minute (key S: next view)"},
    {"Spectrum", "lines and third octaves; a right click on it copies the numbers (key S: next view)"},
    {"Orders", "distortion by order; a right click on it copies the numbers (key S: next view)"}};

} // namespace

ViewPanel::ViewPanel(Controls& c) : controls(c), trend(c)
{
    addAndMakeVisible(trend);
    addChildComponent(spectrum);
    for (std::size_t i = 0; i < benchViews; ++i) {
        chips[i] = std::make_unique<Chip>(Chip::Kind::link, choices[i].name, 12.0f);
        chips[i]->setTooltip(choices[i].hint);
        chips[i]->setOn(i == 0);
        chips[i]->onClick = [this, i] { choose(static_cast<BenchView>(i)); };
        addAndMakeVisible(*chips[i]);
    }
}

void ViewPanel::choose(BenchView next)
{
    if (next == which)
        return;
    which = next;
    const bool lastMinute = which == BenchView::lastMinute;
    for (std::size_t i = 0; i < benchViews; ++i)
        chips[i]->setOn(static_cast<BenchView>(i) == which);
    trend.setVisible(lastMinute);
    spectrum.setVisible(!lastMinute);
    spectrum.showOrders(which == BenchView::orders);
    controls.showSpectrum(!lastMinute);
    if (onChosen)
        onChosen();
}

void ViewPanel::step()
{
    choose(static_cast<BenchView>((static_cast<std::size_t>(which) + 1) % benchViews));
}

void ViewPanel::show(const LiveView& view, const Measures& m)
{
    const bool restyled = !(m == measures);
    measures = m;
    if (restyled)
        resized();
    if (which == BenchView::lastMinute)
        trend.show(view, m);
    else
        spectrum.show(view, m);
}

void ViewPanel::resized()
{
    float x = chipsLeft;
    for (auto& chip : chips) {
        chip->setSize(measures.between(11, 12));
        chip->placeLeft(x, measures.between(13, 18), chipHeight);
        x = static_cast<float>(chip->getRight()) + 5.0f;
    }
    trend.setLegendStart(x + measures.between(8, 14));
    spectrum.setLegendStart(x + measures.between(8, 14));
    trend.setBounds(getLocalBounds());
    spectrum.setBounds(getLocalBounds());
}

} // namespace couplet
