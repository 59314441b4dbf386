// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ReferenceWords.h"

#include "Library/IsoTime.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <cctype>
#include <cmath>

namespace couplet {
namespace {

bool startsWith(const std::string& text, const char* beginning)
{
    return text.rfind(beginning, 0) == 0;
}

StateSign doneSign(const ReferenceView& view)
{
    if (view.kind == CaptureKind::quickCheck && view.check)
        return checkSign(*view.check);
    if (view.waits_dB)
        return {fmt::format("Moved by {} dB", signedLevelText(*view.waits_dB)), Mark::attention, false};
    return {view.kind == CaptureKind::secondLevel ? "Heard" : "Done", Mark::agrees, false};
}

StateSign idleSign(const ReferenceView& view)
{
    if (view.fit)
        return {"Fit", Mark::agrees, false};
    return {view.checks.empty() ? "Not ready" : "Not fit", Mark::attention, false};
}

} // namespace

std::string asSentence(std::string text)
{
    if (text.empty())
        return text;
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    if (std::string(".?!").find(text.back()) == std::string::npos)
        text += '.';
    return text;
}

bool runs(CaptureState state)
{
    return state == CaptureState::armed || state == CaptureState::waiting || state == CaptureState::capturing ||
           state == CaptureState::lift;
}

StateSign stateSign(const ReferenceView& view)
{
    switch (view.state) {
    case CaptureState::idle:
        return idleSign(view);
    case CaptureState::armed:
        return {"Hands-free", Mark::silent, true};
    case CaptureState::waiting:
        return {"Waiting", Mark::silent, true};
    case CaptureState::capturing:
        return {"Capturing", Mark::whole, true};
    case CaptureState::lift:
        return {"Lift", Mark::hollow, true};
    case CaptureState::done:
        return doneSign(view);
    case CaptureState::refused:
        return {"Refused", Mark::attention, false};
    case CaptureState::cancelled:
        return {"Cancelled", Mark::differs, false};
    }
    return {};
}

std::vector<std::string> stateSentences(const ReferenceView& view)
{
    std::vector<std::string> said;
    if (!view.notice.empty())
        said.push_back(asSentence(view.notice));
    if (view.state == CaptureState::capturing && view.notice.empty())
        said.emplace_back("A knock or a slipped seat restarts the count.");
    if (view.state == CaptureState::armed && view.notice.empty())
        said.emplace_back("It begins by itself when the tone turns steady.");
    if (view.waits_dB) {
        said.push_back("It is not kept yet. " + view.waitsText);
        said.emplace_back("Keep it if the change is meant, or take it again. The reference before stays in force.");
    }
    else if (view.state == CaptureState::done && view.kind == CaptureKind::reference && view.notice.empty())
        said.push_back(view.history.dueText.empty() ? std::string("The reference is in force.")
                                                    : "The reference is in force; " + view.history.dueText + ".");
    // What keeps the next one from being taken, unless a capture has just ended: the calibrator may come off then.
    const bool idle = view.state == CaptureState::idle || view.state == CaptureState::cancelled;
    if (idle && !view.fit && !view.whyNot.empty() && asSentence(view.whyNot) != (said.empty() ? "" : said.front()))
        said.push_back(asSentence(view.whyNot));
    for (const Check& warning : view.warnings)
        if (!warning.passes && !warning.reason.empty())
            said.push_back(asSentence(warning.reason));
    return said;
}

StateSign checkSign(const QuickCheck& check)
{
    switch (check.verdict) {
    case QuickCheck::Verdict::holds:
        return {"Holds", Mark::agrees, false};
    case QuickCheck::Verdict::moved:
        return {fmt::format("Moved by {} dB", signedLevelText(check.change_dB.value_or(0.0))), Mark::differs, false};
    case QuickCheck::Verdict::cannotTell:
        break;
    }
    return {"Cannot tell", Mark::attention, false};
}

std::string checkSentence(const QuickCheck& check)
{
    if (check.verdict == QuickCheck::Verdict::cannotTell || !check.change_dB)
        return asSentence(check.sentence);
    const auto sentence = fmt::format("The chain is {} dB from the reference of {}; within {:.2f} dB is usual.",
                                      signedLevelText(*check.change_dB), minuteText(check.since), check.allowed_dB);
    return check.correctionNote.empty() ? sentence : sentence + " " + asSentence(check.correctionNote);
}

std::string minuteText(const std::string& iso)
{
    const auto instant = instantFrom(iso);
    if (!instant)
        return iso;
    const auto text = textOf(*instant); // "2026-05-03T12:04:11Z"
    return text.substr(0, 10) + " " + text.substr(11, 5);
}

std::string valueText(const Check& check)
{
    if (!std::isfinite(check.value))
        return "\u2013";
    if (check.unit == "Hz")
        return frequencyText(Hertz(check.value));
    if (startsWith(check.name, "last time"))
        return signedLevelText(check.value) + " dB";
    if (check.unit.empty())
        return fmt::format("{:.0f}", check.value);
    const bool coarse = check.unit == "s" || (check.unit == "dB" && check.limit >= 1.0);
    return fmt::format("{:.{}f} {}", roundedHalfAway(check.value, coarse ? 1 : 2), coarse ? 1 : 2, check.unit);
}

std::string countedText(std::size_t count, const std::string& noun)
{
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::string seatingsWords(int count)
{
    return countedText(static_cast<std::size_t>(count), "seating");
}

std::string beforeWords(const ReferenceView& view, bool brief)
{
    if (view.before_dB) {
        const std::string age = view.beforeAge.empty() ? "" : ", " + view.beforeAge + " ago";
        return (brief ? "before" : "the one before") + age + ": " + signedLevelText(*view.before_dB);
    }
    if (!view.offset_dB)
        return {};
    if (view.sumIsLive)
        return "the first of this coupler";
    return view.history.age_s ? "in force, taken " + durationText(std::abs(*view.history.age_s)) + " ago" : "in force";
}

std::string originWords(const ReferenceView& view)
{
    if (view.coupler.empty())
        return {};
    if (!view.correction)
        return "no correction: as for a bare microphone";
    return view.correction->origin.empty() ? "origin not recorded" : view.correction->origin;
}

} // namespace couplet
