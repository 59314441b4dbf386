// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ReferenceSumPicture.h"

#include "Quantities/QuantityText.h"
#include "Screens/Pen.h"
#include "Screens/ReferenceWords.h"

namespace couplet {
namespace {

class Sum
{
public:
    Sum(const ReferenceView& v, juce::Point<float> s, float b, const Measures& measures, const Fonts& fonts)
        : view(v), size(s), bottom(b), m(measures), pen(fonts), inset(m.between(12, 16)), right(s.x - inset)
    {
    }

    ReferenceSum draw()
    {
        pen.box(juce::Rectangle<float>(size.x, size.y).reduced(0.5f), 6.0f, colours::card, colours::edge);
        const TextStyle label{m.between(11, 12), false, colours::grey};
        next = m.between(17, 24);
        pen.left("Calibrator", inset, next, pen.width("Calibrator", label) + 1.0f, label);
        sum.calibratorMiddle = next - 0.36f * label.size;
        next += m.between(3, 5);
        settlePitch();
        next += pitch;
        if (view.levels_dB.size() > 1) {
            name("level it plays", plain());
            sum.levelMiddle = next - 0.36f * plain().size;
            next += pitch;
        }
        addends();
        totals();
        sum.picture = std::move(pen.picture);
        return std::move(sum);
    }

private:
    TextStyle plain() const { return {m.between(11.5f, 14)}; }
    TextStyle small() const { return {m.between(10.5f, 12), false, colours::grey}; }

    // As far apart as there is room for.
    void settlePitch()
    {
        std::size_t rows = 5 + std::max<std::size_t>(3, view.toMicrophone.size());
        rows += view.levels_dB.size() > 1 ? 1 : 0;
        const float rules = m.between(10, 22), origin = small().size + 3.0f;
        pitch = std::clamp((bottom - next - rules - origin) / static_cast<float>(rows), m.between(14, 19),
                           m.between(17, 28));
    }

    void name(const std::string& text, TextStyle style, float valueRoom = 0.0f)
    {
        const float room = right - inset - valueRoom;
        while (style.size > 10.0f && pen.width(text, style) > room)
            style.size -= 0.5f;
        pen.left(pen.shortened(text, room, style), inset, next, room, style);
    }

    void row(const std::string& text, const std::string& value, TextStyle style, float valueSize = 0.0f,
             juce::Colour valueColour = colours::ink)
    {
        TextStyle number = style;
        number.size = valueSize > 0.0f ? valueSize : style.size + 1.0f;
        number.colour = valueColour;
        const float width = value.empty() ? 0.0f : pen.width(value, number) + 1.0f;
        if (!value.empty())
            pen.right(value, right, next, width, number);
        name(text, style, width + 8.0f);
        next += pitch;
    }

    void addends()
    {
        const bool there = !view.toMicrophone.empty();
        for (std::size_t i = 0; i < view.toMicrophone.size(); ++i) {
            const Addend& a = view.toMicrophone[i];
            const bool pressure = a.name.rfind("static pressure", 0) == 0 && view.needsPressure;
            if (pressure)
                sum.pressureMiddle = next - 0.36f * plain().size;
            row(pressure ? "static pressure" : a.name, i == 0 ? levelText(a.value_dB) : signedLevelText(a.value_dB),
                plain());
        }
        if (!there) {
            row("certified level", "\u2013", plain());
            if (view.needsPressure)
                sum.pressureMiddle = next - 0.36f * plain().size;
            row("static pressure", "\u2013", plain());
            row("taken by the coupler", "\u2013", plain());
        }
        const auto origin = originWords(view);
        if (origin.empty())
            return;
        next -= pitch - small().size - 3.0f;
        pen.left(pen.shortened(origin, right - inset, small()), inset, next, right - inset, small());
        next += pitch;
    }

    std::string before(const TextStyle& style) const
    {
        const auto words = beforeWords(view);
        const float room = right - inset - (view.change_dB ? pen.width("\u22120.00", style) + 12.0f : 0.0f);
        return pen.width(words, style) <= room ? words : beforeWords(view, true);
    }

    void rule()
    {
        const float y = std::round(next - pitch + m.between(4, 8)) + 0.5f;
        pen.line(inset, y, right, y, colours::ink, 1.0f);
        next += m.between(4, 8);
    }

    void totals()
    {
        const auto text = [](const std::optional<double>& value, auto print) {
            return value ? print(*value) : std::string("\u2013");
        };
        const auto level = [](double v) { return levelText(v); };
        rule();
        TextStyle bold = plain();
        bold.bold = true;
        row("at the coupler microphone", text(view.atMicrophone_dB, level), bold);
        row("less the tone at the input", text(view.tone_dBFS, level), plain());
        rule();
        next += m.between(2, 4);
        row("offset, dB SPL at 0 dBFS", text(view.offset_dB, [](double v) { return signedLevelText(v); }), bold,
            m.between(15, 18), colours::measured);
        TextStyle grey{m.between(11, 13), false, colours::grey};
        row(before(grey), view.change_dB ? signedLevelText(*view.change_dB) : "", grey, grey.size, colours::grey);
    }

    const ReferenceView& view;
    const juce::Point<float> size;
    const float bottom;
    const Measures& m;
    Pen pen;
    const float inset, right;
    float next = 0.0f, pitch = 0.0f;
    ReferenceSum sum;
};

} // namespace

ReferenceSum referenceSumPicture(const ReferenceView& view, juce::Point<float> size, float bottom,
                                 const Measures& measures, const Fonts& fonts)
{
    return Sum(view, size, bottom, measures, fonts).draw();
}

} // namespace couplet
