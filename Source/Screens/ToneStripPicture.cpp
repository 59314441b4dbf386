// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ToneStripPicture.h"

#include "Screens/Pen.h"
#include "Screens/ToneChecks.h"

#include <algorithm>
#include <numeric>

namespace couplet {
namespace {

constexpr float inset = 16.0f, gap = 14.0f, markSize = 11.0f, markRoom = 16.0f;

struct Styles
{
    TextStyle label, value;
};

float cellWidth(const Pen& pen, const ToneCheck& check, const Styles& styles)
{
    const TextStyle style{styles.value.size, check.amiss};
    const float value = pen.width(check.value, style) + (check.amiss ? markRoom : 0.0f);
    return std::max({pen.width(check.label, styles.label), value, pen.width(check.widest, styles.value)});
}

std::vector<float> widths(const Pen& pen, const std::vector<ToneCheck>& checks, const Styles& styles)
{
    std::vector<float> all;
    all.reserve(checks.size());
    for (const auto& check : checks)
        all.push_back(cellWidth(pen, check, styles));
    return all;
}

float total(const std::vector<float>& cells)
{
    return std::accumulate(cells.begin(), cells.end(), gap * static_cast<float>(cells.size() - 1));
}

struct Cells
{
    std::vector<ToneCheck> checks;
    std::vector<float> widths;
};

// Where room is short, labels get shorter, and then what stands elsewhere as well is left out.
Cells fitting(const Pen& pen, const LiveView& view, const Styles& styles, float room)
{
    Cells cells;
    for (int step = 0; step < 3; ++step) {
        cells.checks = toneChecks(view);
        if (step > 1)
            std::erase_if(cells.checks, [](const ToneCheck& check) { return check.elsewhere; });
        if (step > 0)
            for (auto& check : cells.checks)
                check.label = check.shortLabel;
        if (view.simulated)
            cells.checks.front().label += ", simulated";
        cells.widths = widths(pen, cells.checks, styles);
        if (total(cells.widths) <= room)
            break;
    }
    return cells;
}

} // namespace

Picture toneStripPicture(const LiveView& view, juce::Point<float> size, const Measures& m, const Fonts& fonts)
{
    Pen pen(fonts);
    pen.box(juce::Rectangle<float>(size.x, size.y).reduced(0.5f), 6.0f, colours::card, colours::edge);
    const Styles styles{{m.between(11, 12), false, colours::grey}, {m.between(12.5f, 14)}};
    const float room = size.x - 2.0f * inset;

    const auto [checks, cells] = fitting(pen, view, styles, room);
    const float spare = std::max(0.0f, room - total(cells)) / static_cast<float>(cells.size() - 1);
    float x = inset;
    for (std::size_t i = 0; i < checks.size(); ++i) {
        const auto& check = checks[i];
        const float base = size.y * 0.75f, shift = check.amiss ? markRoom : 0.0f;
        pen.left(check.label, x, size.y * 0.36f, cells[i], styles.label);
        if (check.amiss)
            pen.mark(Mark::attention, x, base - 0.35f * styles.value.size, markSize, colours::ink);
        pen.left(check.value, x + shift, base, cells[i] - shift, {styles.value.size, check.amiss, colours::ink});
        x += cells[i] + gap + spare;
    }
    return pen.picture;
}

} // namespace couplet
