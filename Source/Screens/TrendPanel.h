// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/Measures.h"

// Purpose: the last minute, with the broadband level's weighting, time weighting, maximum and minimum above it; each can
//          be changed where it stands.
// Thread:  message.
namespace couplet {

class TrendPanel : public juce::Component
{
public:
    explicit TrendPanel(Controls&);

    void show(const LiveView&, const Measures&);
    void setLegendStart(float x) { legendStart = x; } // before show()
    void resized() override;

private:
    void chooseWeighting();
    Picture extremes() const;
    float numbersWidth() const;

    juce::SharedResourcePointer<Fonts> fonts;
    Controls& controls;
    Canvas trend, numbers;
    Chip weighting{Chip::Kind::link, "Z-weighted", 12.0f}, time{Chip::Kind::link, "Fast", 12.0f};
    Chip reset{Chip::Kind::link, "reset", 12.0f};
    FrequencyWeighting shownWeighting = FrequencyWeighting::Z;
    TimeWeighting shownTime = TimeWeighting::fast;
    std::optional<double> now_dB, highest_dB, lowest_dB;
    float legendStart = 0.0f;
    Measures measures;
};

} // namespace couplet
