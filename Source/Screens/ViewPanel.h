// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/SpectrumPanel.h"
#include "Screens/TrendPanel.h"

#include <array>

// Purpose: the panel at the bottom of the Read page, and the choice of what stands in it: the last minute, the spectrum,
//          or the distortion by order.
// Thread:  message.
namespace couplet {

enum class BenchView { lastMinute, spectrum, orders };
inline constexpr std::size_t benchViews = 3;

class ViewPanel : public juce::Component
{
public:
    explicit ViewPanel(Controls&);

    void show(const LiveView&, const Measures&);
    void choose(BenchView);
    BenchView chosen() const { return which; }
    void step(); // to the next one, and round
    std::function<void()> onChosen;
    SpectrumPanel& spectrumPanel() { return spectrum; }

    void resized() override;

private:
    juce::SharedResourcePointer<Fonts> fonts;
    Controls& controls;
    TrendPanel trend;
    SpectrumPanel spectrum;
    std::array<std::unique_ptr<Chip>, benchViews> chips;
    BenchView which = BenchView::lastMinute;
    Measures measures;
};

} // namespace couplet
