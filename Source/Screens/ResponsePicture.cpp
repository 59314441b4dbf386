// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ResponsePicture.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr float labelsLeft = 44.0f, textAbove = 20.0f, labelsBelow = 22.0f;
const TextStyle small{11.0f, false, colours::grey};

struct LevelAxis
{
    double low_dB = -1.0, high_dB = 1.0, step_dB = 1.0;
    float top = 0.0f, height = 1.0f;

    float y(double level_dB) const
    {
        return top + height * static_cast<float>((high_dB - level_dB) / (high_dB - low_dB));
    }
};

// Two decibels at least, so that a flat microphone looks flat.
LevelAxis levelAxis(const std::vector<ResponsePoint>& table, juce::Rectangle<float> area)
{
    const auto [least, most] = std::minmax_element(
        table.begin(), table.end(), [](const auto& a, const auto& b) { return a.response_dB < b.response_dB; });
    const double low = std::min(least->response_dB, 0.0), high = std::max(most->response_dB, 0.0);
    const double span = std::max(high - low, 2.0);
    const int mostLines = std::max(2, static_cast<int>(area.getHeight() / 22.0f));
    double step = 40.0;
    for (const double candidate : {0.5, 1.0, 2.0, 5.0, 10.0, 20.0})
        if (span / candidate <= mostLines - 1) {
            step = candidate;
            break;
        }
    LevelAxis axis;
    axis.step_dB = step;
    axis.low_dB = std::min(step * std::floor(low / step), -step);
    axis.high_dB = std::max(step * std::ceil(high / step), step);
    axis.top = area.getY();
    axis.height = area.getHeight();
    return axis;
}

std::string shortFrequency(double frequency_Hz)
{
    return frequency_Hz < 1000.0 ? fmt::format("{:g}", frequency_Hz) : fmt::format("{:g}k", frequency_Hz / 1000.0);
}

void drawFrequencies(Pen& pen, const FrequencyAxis& axis, juce::Rectangle<float> area)
{
    float free = -1e9f;
    for (int decade = -3; decade < 7; ++decade)
        for (const double digit : {1.0, 2.0, 5.0}) {
            const double frequency = std::round(std::pow(10.0, decade) * digit * 1e6) / 1e6;
            if (frequency < axis.low_Hz * 0.999 || frequency > axis.high_Hz * 1.001)
                continue;
            const float x = std::round(axis.x(frequency)) + 0.5f;
            pen.line(x, area.getY(), x, area.getBottom(), colours::edge, 1.0f);
            const auto text = shortFrequency(frequency);
            const float width = pen.width(text, small), left = x - width / 2.0f;
            if (left < free || left + width > area.getRight() + 6.0f)
                continue;
            pen.left(text, left, area.getBottom() + 14.0f, width + 1.0f, small);
            free = left + width + 8.0f;
        }
}

void drawLevels(Pen& pen, const LevelAxis& axis, juce::Rectangle<float> area)
{
    const int lines = static_cast<int>(std::lround((axis.high_dB - axis.low_dB) / axis.step_dB));
    const float pitch = area.getHeight() / static_cast<float>(lines);
    const int each = std::max(1, static_cast<int>(std::ceil(14.0f / pitch)));
    for (int i = 0; i <= lines; ++i) {
        const double level = axis.low_dB + i * axis.step_dB;
        const float y = std::round(axis.y(level)) + 0.5f;
        const bool isZero = std::abs(level) < 1e-9;
        pen.line(area.getX(), y, area.getRight(), y, isZero ? colours::grey : colours::edge, 1.0f);
        const auto text =
            isZero ? std::string("0") : (level < 0.0 ? "\u2212" : "+") + fmt::format("{:g}", std::abs(level));
        if ((lines - i) % each == 0)
            pen.right(text, area.getX() - 6.0f, y + 3.7f, labelsLeft - 8.0f, small);
    }
}

} // namespace

FrequencyAxis FrequencyAxis::over(const std::vector<ResponsePoint>& table, float left, float width)
{
    FrequencyAxis axis;
    axis.left = left;
    axis.width = width;
    if (table.empty())
        return axis;
    axis.low_Hz = table.front().frequency.value;
    axis.high_Hz = table.back().frequency.value;
    if (axis.high_Hz < 10.0 * axis.low_Hz) {
        const double middle = std::sqrt(axis.low_Hz * axis.high_Hz);
        axis.low_Hz = middle / std::sqrt(10.0);
        axis.high_Hz = middle * std::sqrt(10.0);
    }
    return axis;
}

float FrequencyAxis::x(double frequency_Hz) const
{
    return left + width * static_cast<float>(std::log(frequency_Hz / low_Hz) / std::log(high_Hz / low_Hz));
}

juce::Rectangle<float> responseArea(juce::Point<float> size)
{
    return {labelsLeft, textAbove + 4.0f, size.x - labelsLeft - 6.0f, size.y - textAbove - 4.0f - labelsBelow};
}

std::optional<std::size_t> pointNear(const std::vector<ResponsePoint>& table, juce::Point<float> size, float x)
{
    const auto area = responseArea(size);
    const auto axis = FrequencyAxis::over(table, area.getX(), area.getWidth());
    std::optional<std::size_t> nearest;
    float least = 0.0f;
    for (std::size_t i = 0; i < table.size(); ++i) {
        const float distance = std::abs(axis.x(table[i].frequency.value) - x);
        if (!nearest || distance < least) {
            nearest = i;
            least = distance;
        }
    }
    return nearest;
}

Picture responsePicture(const std::vector<ResponsePoint>& table, const std::string& source, juce::Point<float> size,
                        std::optional<std::size_t> told, const Fonts& fonts)
{
    Pen pen(fonts);
    const auto area = responseArea(size);
    if (table.empty() || area.getHeight() < 24.0f || area.getWidth() < 60.0f)
        return pen.picture;
    const auto across = FrequencyAxis::over(table, area.getX(), area.getWidth());
    const auto up = levelAxis(table, area);
    drawFrequencies(pen, across, area);
    drawLevels(pen, up, area);
    juce::Path curve;
    for (std::size_t i = 0; i < table.size(); ++i) {
        const juce::Point<float> here(across.x(table[i].frequency.value), up.y(table[i].response_dB));
        i == 0 ? curve.startNewSubPath(here) : curve.lineTo(here);
    }
    pen.stroke(curve, colours::ink, 1.6f);

    const TextStyle head{12.0f, false, colours::grey}, strong{12.0f};
    std::string title = fmt::format("response, dB over Hz; {} points", table.size());
    if (!source.empty())
        title += " from " + source;
    const float right = area.getRight();
    float room = right - 2.0f;
    if (told && *told < table.size()) {
        const auto& point = table[*told];
        const auto text =
            fmt::format("{}: {} dB", nominalFrequencyText(point.frequency), signedLevelText(point.response_dB));
        const juce::Point<float> here(across.x(point.frequency.value), up.y(point.response_dB));
        pen.line(here.x, area.getY(), here.x, area.getBottom(), colours::grey, 1.0f);
        juce::Path dot;
        dot.addEllipse(juce::Rectangle<float>(7.0f, 7.0f).withCentre(here));
        pen.fill(dot, colours::ink);
        pen.right(text, right, 13.0f, pen.width(text, strong), strong);
        room -= pen.width(text, strong) + 12.0f;
    }
    pen.left(pen.shortened(title, room, head), 2.0f, 13.0f, room, head);
    return pen.picture;
}

} // namespace couplet
