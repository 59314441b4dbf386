// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/SpectrumPicture.h"

#include <vector>

namespace couplet {
namespace {

enum class Sample { none, curve, block, dot };

struct Entry
{
    Sample sample;
    std::string words;
};

constexpr float sampleWidth = 18.0f, afterSample = 6.0f, between = 18.0f;

float widthOf(const Pen& pen, const std::vector<Entry>& entries, const TextStyle& style)
{
    float width = -between;
    for (const auto& entry : entries)
        width +=
            between + (entry.sample == Sample::none ? 0.0f : sampleWidth + afterSample) + pen.width(entry.words, style);
    return width;
}

void drawSample(Pen& pen, Sample sample, float x, float middle)
{
    const juce::Rectangle<float> area(x, middle - 5.0f, sampleWidth, 10.0f);
    juce::Path path;
    if (sample == Sample::curve)
        pen.line(x, middle, x + sampleWidth, middle, colours::measured, 1.6f);
    if (sample == Sample::block) {
        path.addRectangle(area);
        pen.fill(path, colours::edge.withAlpha(0.45f));
        pen.line(x, area.getY(), x + sampleWidth, area.getY(), colours::grey.withAlpha(0.55f), 1.5f);
    }
    if (sample == Sample::dot) {
        path.addEllipse(juce::Rectangle<float>(5.0f, 5.0f).withCentre(area.getCentre()));
        pen.fill(path, colours::ink);
    }
}

// The first of the choices that fits, from the left.
Picture fitting(const std::vector<std::vector<Entry>>& choices, float left, float right, const TextStyle& style,
                const Measures& m, const Fonts& fonts)
{
    Pen pen(fonts);
    const float base = m.between(17, 22);
    for (const auto& entries : choices) {
        if (widthOf(pen, entries, style) > right - left)
            continue;
        float x = left;
        for (const auto& entry : entries) {
            if (entry.sample != Sample::none) {
                drawSample(pen, entry.sample, x, base - 0.33f * style.size);
                x += sampleWidth + afterSample;
            }
            const float width = pen.width(entry.words, style);
            pen.left(entry.words, x, base, width, style);
            x += width + between;
        }
        break;
    }
    return pen.picture;
}

} // namespace

Picture spectrumLegend(const SpectrumContent& content, float left, float right, const Measures& m, const Fonts& fonts)
{
    const TextStyle style{m.between(11, 12), false, colours::grey};
    const bool unreferenced = !content.spectrum.referenced && content.unit == "dBFS";
    const Entry unit{Sample::none, content.unit + content.state};
    const Entry why{Sample::none, content.unit + (unreferenced ? ", no reference" : "") + content.state};
    if (!content.why.empty())
        return fitting({{why}, {unit}}, left, right, style, m, fonts);
    const Entry lines{Sample::curve, linesWords(content.spectrum)},
        brief{Sample::curve, linesWordsInBrief(content.spectrum)}, bands{Sample::block, "bands: third octaves"},
        orders{Sample::dot, "tone and orders"}, response{Sample::none, responseWords(content.spectrum)};
    const std::vector<std::vector<Entry>> withoutTone{{why, lines, bands, response},
                                                      {why, lines, bands},
                                                      {unit, lines, bands},
                                                      {why, brief, bands},
                                                      {unit, brief, bands},
                                                      {unit, brief},
                                                      {unit}};
    auto choices = withoutTone;
    if (content.tone)
        choices.insert(choices.begin(), {{why, lines, bands, orders, response}, {why, lines, bands, orders}});
    return fitting(choices, left, right, style, m, fonts);
}

Picture wordsAtPointer(const SpectrumContent& content, double frequency_Hz, float left, float right, const Measures& m,
                       const Fonts& fonts)
{
    const TextStyle style{m.between(11, 12)};
    std::vector<Entry> all;
    for (const auto& words : wordsAt(content, frequency_Hz))
        all.push_back({Sample::none, words});
    std::vector<std::vector<Entry>> choices{all};
    all.back().words = content.spectrum.responseTakenOut ? "response taken out" : "response not taken out";
    choices.push_back(all);
    all.back().words = content.spectrum.responseTakenOut ? "taken out" : "not taken out";
    choices.push_back(all);
    return fitting(choices, left, right, style, m, fonts);
}

} // namespace couplet
