// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/SpectrumContent.h"

#include "Quantities/QuantityText.h"
#include "Screens/Words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

bool anyLevel(const SpectrumReading& s)
{
    const auto has = [](const auto& item) { return item.level_dB.has_value(); };
    return std::any_of(s.lines.begin(), s.lines.end(), has) || std::any_of(s.bands.begin(), s.bands.end(), has);
}

// The level of nothing at all is minus infinity, which no plot has room for.
void dropUnlessFinite(std::optional<double>& level)
{
    if (level && !std::isfinite(*level))
        level.reset();
}

std::string whyNoSpectrum(const LiveView& view)
{
    if (hearing(view) == Hearing::noAudio)
        return silenceReason(Hearing::noAudio, view);
    if (view.spectrum && !view.spectrum->whyNot.empty())
        return view.spectrum->whyNot;
    if (view.spectrum && anyLevel(*view.spectrum))
        return "";
    if (view.spectrum && !view.spectrum->lines.empty())
        return "no line has a level: the microphone's response table does not reach any of them";
    return "gathering: the spectrum shows as soon as the first transform is whole";
}

std::string whyNoOrders(const LiveView& view)
{
    if (!view.spectrum || !view.spectrum->orders.empty())
        return "";
    if (hearing(view) == Hearing::noTone)
        return view.reading.tone.whyNoLevel;
    if (view.reading.tone.frequency)
        return fmt::format("no order of {} lies below half the sampling rate",
                           frequencyText(*view.reading.tone.frequency));
    return "gathering: the orders show as soon as the tone is found";
}

std::string levelWords(const std::optional<double>& level, const std::string& unit)
{
    return level ? oneDecimalText(*level) + " " + unit : "no value";
}

} // namespace

SpectrumContent spectrumContent(const LiveView& view)
{
    SpectrumContent content;
    content.why = whyNoSpectrum(view);
    content.whyNoOrders = content.why.empty() ? whyNoOrders(view) : content.why;
    content.unit = view.spectrum ? (view.spectrum->referenced ? "dB SPL" : "dBFS") : unitOf(view);
    content.state = std::string(view.simulated ? ", simulated" : "") + (view.hold ? ", held" : "");
    if (!view.spectrum)
        return content;
    content.spectrum = *view.spectrum;
    for (auto& point : content.spectrum.lines)
        dropUnlessFinite(point.level_dB);
    for (auto& band : content.spectrum.bands)
        dropUnlessFinite(band.level_dB);
    if (!content.spectrum.orders.empty() && hearing(view) == Hearing::level) {
        content.tone = view.reading.tone.frequency;
        content.distortion_percent = view.reading.tone.distortion_percent;
    }
    return content;
}

std::string linesWords(const SpectrumReading& s)
{
    return fmt::format("lines: {}, {:.2f} s, {:.1f} Hz wide, {} averaged", s.window, s.length_s, s.noiseBandwidth_Hz,
                       s.averages);
}

std::string linesWordsInBrief(const SpectrumReading& s)
{
    return fmt::format("lines: {:.1f} Hz wide, {} averaged", s.noiseBandwidth_Hz, s.averages);
}

std::string responseWords(const SpectrumReading& s)
{
    return s.responseTakenOut ? "microphone response taken out" : "microphone response not taken out";
}

const SpectrumPoint* pointAt(const SpectrumReading& s, double frequency_Hz)
{
    const auto above =
        std::lower_bound(s.lines.begin(), s.lines.end(), frequency_Hz,
                         [](const SpectrumPoint& point, double frequency) { return point.frequency_Hz < frequency; });
    if (s.lines.empty())
        return nullptr;
    if (above == s.lines.end() || above == s.lines.begin()) {
        const SpectrumPoint& end = above == s.lines.end() ? s.lines.back() : s.lines.front();
        return std::abs(std::log(end.frequency_Hz / frequency_Hz)) < 0.05 ? &end : nullptr;
    }
    const auto below = above - 1;
    return frequency_Hz / below->frequency_Hz < above->frequency_Hz / frequency_Hz ? &*below : &*above;
}

const BandReading* bandAt(const SpectrumReading& s, double frequency_Hz)
{
    for (const auto& band : s.bands)
        if (frequency_Hz >= band.midband_Hz / halfBand && frequency_Hz < band.midband_Hz * halfBand)
            return &band;
    return nullptr;
}

std::vector<std::string> wordsAt(const SpectrumContent& content, double frequency_Hz)
{
    std::vector<std::string> words;
    if (const auto* point = pointAt(content.spectrum, frequency_Hz))
        words.push_back(
            fmt::format("line {:.1f} Hz  {}", point->frequency_Hz, levelWords(point->level_dB, content.unit)));
    if (const auto* band = bandAt(content.spectrum, frequency_Hz))
        words.push_back(fmt::format("band {}  {}", nominalFrequencyText(Hertz(band->nominal_Hz)),
                                    levelWords(band->level_dB, content.unit)));
    words.push_back(responseWords(content.spectrum));
    return words;
}

std::vector<OrderMark> orderMarks(const SpectrumContent& content)
{
    std::vector<OrderMark> marks;
    const auto& s = content.spectrum;
    // A line stands within half a slice, or half a line's width, of where the order is.
    const auto add = [&](int order, double frequency_Hz) {
        const SpectrumPoint* point = pointAt(s, frequency_Hz);
        if (point == nullptr || !point->level_dB)
            return;
        const double reach = std::max(0.015 * frequency_Hz, s.noiseBandwidth_Hz);
        const auto nearest = static_cast<std::size_t>(point - s.lines.data());
        for (std::size_t i = nearest > 0 ? nearest - 1 : 0; i < std::min(nearest + 2, s.lines.size()); ++i)
            if (const auto& beside = s.lines[i]; beside.level_dB && *beside.level_dB > *point->level_dB &&
                                                 std::abs(beside.frequency_Hz - frequency_Hz) <= reach)
                point = &beside;
        if (std::abs(point->frequency_Hz - frequency_Hz) <= reach)
            marks.push_back({order, point->frequency_Hz, *point->level_dB});
    };
    if (content.tone)
        add(1, content.tone->value);
    for (const auto& order : s.orders)
        if (order.belowTone_dB)
            add(order.order, order.frequency_Hz);
    return marks;
}

std::optional<LevelExtent> levelExtent(const SpectrumReading& s)
{
    std::optional<LevelExtent> extent;
    const auto include = [&extent](double level) {
        if (!extent)
            extent = LevelExtent{level, level};
        extent->lowest_dB = std::min(extent->lowest_dB, level);
        extent->highest_dB = std::max(extent->highest_dB, level);
    };
    for (const auto& point : s.lines)
        if (point.level_dB)
            include(*point.level_dB);
    for (const auto& band : s.bands)
        if (band.level_dB)
            include(*band.level_dB);
    return extent;
}

std::string percentText(double percent)
{
    const int decimals = percent >= 1.0 ? 2 : percent >= 0.1 ? 3 : percent >= 0.01 ? 4 : 5;
    return fmt::format("{:.{}f}", percent, decimals);
}

} // namespace couplet
