// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Coupler.h"
#include "Screens/Pen.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

// Purpose: a microphone's response over frequency, with its source beneath; one point may be told in figures.
// Units:   Hz on a logarithmic axis, dB; pixels.
// Thread:  message.
namespace couplet {

// From frequency to its place and back; one decade at least, whole ticks at its ends.
struct FrequencyAxis
{
    double low_Hz = 20.0, high_Hz = 20000.0;
    float left = 0.0f, width = 1.0f;

    static FrequencyAxis over(const std::vector<ResponsePoint>&, float left, float width);
    float x(double frequency_Hz) const;
};

// Where the curve is drawn in a picture of that size.
juce::Rectangle<float> responseArea(juce::Point<float> size);

Picture responsePicture(const std::vector<ResponsePoint>&, const std::string& source, juce::Point<float> size,
                        std::optional<std::size_t> told, const Fonts&);

// The point nearest to that place across.
std::optional<std::size_t> pointNear(const std::vector<ResponsePoint>&, juce::Point<float> size, float x);

} // namespace couplet
