// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/DifferencePicture.h"

#include "Quantities/QuantityText.h"
#include "Screens/Pen.h"
#include "Screens/Words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

std::string tickText(double value)
{
    if (value == 0.0)
        return "0";
    return fmt::format("{}{:.0f}", value > 0.0 ? "+" : "\u2212", std::abs(value));
}

struct Scale
{
    float x, top, bottom;
    double reach_dB;

    float y(double value_dB) const
    {
        const double part = std::clamp(value_dB / reach_dB, -1.0, 1.0);
        return (top + bottom) / 2.0f - static_cast<float>(part) * (bottom - top) / 2.0f;
    }
};

void drawScale(Pen& pen, const Scale& scale, const Measures& m)
{
    constexpr int ticksEachWay = 3;
    pen.line(scale.x, scale.top, scale.x, scale.bottom, colours::ink, 1.5f);
    for (int tick = -ticksEachWay; tick <= ticksEachWay; ++tick) {
        const double value = scale.reach_dB * tick / ticksEachWay;
        const float y = std::round(2.0f * scale.y(value)) / 2.0f;
        pen.line(scale.x - 7.0f, y, scale.x + 7.0f, y, colours::ink, 1.2f);
        const TextStyle style{m.between(10, 12), false, colours::grey};
        pen.right(tickText(value), scale.x - 17.0f, y + 0.33f * style.size, 30.0f, style);
    }
}

void drawBand(Pen& pen, const Scale& scale, double U_dB)
{
    juce::Path band;
    band.addRectangle(
        juce::Rectangle<float>::leftTopRightBottom(scale.x + 1.0f, scale.y(U_dB), scale.x + 24.0f, scale.y(-U_dB)));
    pen.fill(band, colours::edge.withAlpha(0.7f));
}

// A difference beyond the scale rests at its end; the number above says how far it is.
void drawMarker(Pen& pen, const Scale& scale, double D_dB)
{
    const float y = std::round(2.0f * scale.y(D_dB)) / 2.0f;
    juce::Path marker;
    marker.addTriangle(scale.x + 4.0f, y, scale.x + 18.0f, y - 7.0f, scale.x + 18.0f, y + 7.0f);
    pen.fill(marker, colours::ink);
}

void drawVerdict(Pen& pen, const LiveView& view, juce::Point<float> size, const Measures& m)
{
    const MarkedWords verdict = verdictWords(view);
    const bool strong = verdict.mark == Mark::differs;
    const TextStyle style{m.between(12, 14), strong};
    const float markSize = 10.0f, gap = 6.0f, room = size.x - markSize - gap;
    std::string words = verdictSentence(view);
    if (pen.width(words, style) > room)
        words = verdict.words;
    const float width = pen.width(words, style), x = (size.x - width - markSize - gap) / 2.0f;
    const float baseline = size.y - m.between(25, 23);
    pen.mark(verdict.mark, x, baseline - 0.35f * style.size, markSize, colours::ink);
    pen.left(words, x + markSize + gap, baseline, width, style);
}

} // namespace

double scaleReach_dB(const Reading& r)
{
    constexpr double reaches_dB[] = {3.0, 6.0, 12.0, 24.0, 60.0};
    double needed = 0.0;
    if (r.difference)
        needed = std::max(std::abs(r.difference->D_dB), r.difference->expanded ? r.difference->expanded->U_dB : 0.0);
    const auto* found = std::find_if(std::begin(reaches_dB), std::end(reaches_dB) - 1,
                                     [needed](double reach) { return needed <= reach; });
    return *found;
}

Picture differencePicture(const LiveView& view, juce::Point<float> size, const Measures& m, const Fonts& fonts)
{
    Pen pen(fonts);
    const Reading& r = view.reading;
    const float middle = size.x / 2.0f;
    pen.centre("Difference", middle, m.between(18, 34), size.x, {m.between(14, 16), true});

    const bool known = hearing(view) == Hearing::level && r.difference;
    pen.centre(known ? signedLevelText(r.difference->D_dB) : "\u2013", middle, m.between(51, 106), size.x,
               {m.between(24, 34), true});
    const std::string unit = std::string("dB") + (view.simulated ? ", simulated" : "") + (view.hold ? ", held" : "");
    pen.centre(unit, middle, m.between(65, 128), size.x, {m.between(11, 13), false, colours::grey});

    const Scale scale{std::floor(middle), m.between(77, 142), size.y - m.between(47, 48),
                      known ? scaleReach_dB(r) : scaleReach_dB({})};
    if (known && r.difference->expanded)
        drawBand(pen, scale, r.difference->expanded->U_dB);
    drawScale(pen, scale, m);
    if (known)
        drawMarker(pen, scale, r.difference->D_dB);
    drawVerdict(pen, view, size, m);
    return pen.picture;
}

} // namespace couplet
