// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/LevelRange.h"
#include "Screens/Measures.h"
#include "Screens/Pen.h"
#include "Screens/SpectrumContent.h"

#include <cmath>

// Purpose: the spectrum as a plot: third-octave bands as quiet blocks, the lines as one curve over them, the tone and its
//          orders numbered at the curve; above it what the two are, or what lies under the pointer.
// Units:   frequencies logarithmic from 20 Hz to 20 kHz; levels as the content's unit says.
// Thread:  message.
namespace couplet {

struct SpectrumPlot
{
    juce::Rectangle<float> area;
    LevelRange range;

    static SpectrumPlot within(juce::Point<float> size, const LevelRange&, const Measures&);

    float x(double frequency_Hz) const
    {
        return area.getX() + area.getWidth() * static_cast<float>(std::log10(frequency_Hz / 20.0) / 3.0);
    }
    double frequencyAt(float x) const
    {
        return 20.0 * std::pow(10.0, 3.0 * static_cast<double>((x - area.getX()) / area.getWidth()));
    }
    // To a quarter pixel: what nobody can see needs no repaint. What lies outside stands at the edge.
    float y(double level_dB) const
    {
        const double part = (level_dB - range.low_dB) / (range.high_dB - range.low_dB);
        const double clipped = std::min(1.0, std::max(0.0, part));
        return std::round(4.0f * (area.getBottom() - static_cast<float>(clipped) * area.getHeight())) / 4.0f;
    }
};

Picture spectrumPicture(const SpectrumContent&, const SpectrumPlot&, const Measures&, const Fonts&);

// Between those two x, on the line of the panel's words; the fullest that there is room for.
Picture spectrumLegend(const SpectrumContent&, float left, float right, const Measures&, const Fonts&);
Picture wordsAtPointer(const SpectrumContent&, double frequency_Hz, float left, float right, const Measures&,
                       const Fonts&);

// A hair line at the nearest line, with a ring around its level.
Picture pointerPicture(const SpectrumContent&, const SpectrumPlot&, double frequency_Hz, const Fonts&);

// A sentence in the middle of where a plot would be.
void sentenceInstead(Pen&, const std::string&, juce::Rectangle<float> area, const Measures&);

} // namespace couplet
