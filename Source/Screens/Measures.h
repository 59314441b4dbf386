// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Picture.h"

#include <algorithm>
#include <cmath>

// Purpose: how closely a page is set: every size is given twice, for the smallest window and for the usual one, and
//          follows the window between the two. Beyond the usual size a page is not set wider but drawn larger.
// Units:   pixels at scale 1.
// Thread:  any.
namespace couplet {

inline constexpr int usualWidth = 1100, usualHeight = 720;
inline constexpr int smallestWidth = 760, smallestHeight = 520;
inline constexpr int largestWidth = 2200, largestHeight = 1440;

struct Measures
{
    float ease = 1.0f; // 0 at the smallest window, 1 from the usual one on
    float width = usualWidth, height = usualHeight;

    static Measures of(float width, float height)
    {
        const float w = (width - smallestWidth) / (usualWidth - smallestWidth);
        const float h = (height - smallestHeight) / (usualHeight - smallestHeight);
        return {std::clamp(std::min(w, h), 0.0f, 1.0f), width, height};
    }
    // To half a pixel, so that texts do not change their form with every pixel of the window.
    float between(float smallest, float usual) const
    {
        return std::round(2.0f * (smallest + (usual - smallest) * ease)) / 2.0f;
    }
    // Room for everything in the uppermost row.
    bool wide() const { return width >= 1060.0f; }
    float margin() const { return 28.0f; }

    bool operator==(const Measures&) const = default;
};

// The nearest whole pixels; no height below 0.
inline juce::Rectangle<int> whole(float x, float y, float width, float height)
{
    return juce::Rectangle<float>(x, y, width, std::max(0.0f, height)).toNearestInt();
}

} // namespace couplet
