// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/BenchArguments.h"
#include "Command/BenchText.h"
#include "Command/TakeAnalysis.h"
#include "Command/Verb.h"

#include "Bench/Reading.h"
#include "Bench/ReadingNotes.h"
#include "Library/Json.h"
#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <utility>

namespace couplet {
namespace {

constexpr std::array<const char*, weightings> names{"A", "C", "Z"};

struct Row
{
    std::optional<double> leq, exposure, fastMax, fastMin, slowMax, slowMin, peak;
};

// Levels of one weighting. A full-scale sine has a mean square of 1/2 and reads 0 dBFS; a peak of full scale then lies
// 3.01 dB above, as a sine's peak lies above its RMS value in any unit of level.
Row rowOf(const BroadbandLevels& l, double duration_s, double offset_dB)
{
    const auto level = [&](std::optional<double> meanSquare) -> std::optional<double> {
        if (!meanSquare || !(*meanSquare > 0.0))
            return {};
        return offset_dB + decibelsOfPower(2.0 * *meanSquare);
    };
    Row r;
    r.leq = level(l.energy / duration_s);
    r.exposure = level(l.energy); // re 1 s
    r.fastMax = level(l.fastMax);
    r.fastMin = level(l.fastMin);
    r.slowMax = level(l.slowMax);
    r.slowMin = level(l.slowMin);
    r.peak = level(l.peak * l.peak);
    return r;
}

JsonValue number(const std::optional<double>& value)
{
    return value ? JsonValue(std::round(*value * 1e6) / 1e6 + 0.0) : JsonValue{};
}

std::string cell(const std::optional<double>& value)
{
    return fmt::format("{:>9}", value ? levelText(*value, Minus::hyphen) : "-");
}

} // namespace

Outcome<Answer> runLevels(const Arguments& arguments)
{
    const Folder folder = libraryOf(arguments);
    Setup setup;
    setup.now = timeNow();
    if (const auto done = addCoupler(setup, arguments, folder); !done)
        return done.fault();
    const auto channel = microphoneChannel(arguments);
    if (!channel)
        return channel.fault();
    setup.channel = *channel;
    const auto analysis = analyseTake(arguments.words().front(), *channel);
    if (!analysis)
        return analysis.fault();

    std::vector<std::string> notes;
    const auto offset = offsetInForce(setup);
    if (!offset)
        notes.push_back(setup.coupler
                            ? fmt::format("coupler '{}' has no reference: levels are dBFS", setup.coupler->name)
                            : std::string("no coupler and no offset: levels are dBFS"));
    std::optional<Expanded> offsetU;
    if (offset) {
        if (offset->hasUncertainty())
            offsetU = expand(offset->budget);
        for (const auto& missing : offset->missing)
            notes.push_back(missing);
        noteReference(notes, analysis->sampleRate_Hz, setup);
    }
    if (setup.coupler && !setup.coupler->response.empty())
        notes.push_back("the microphone's response table is not applied to broadband levels");
    if (const auto clipped = analysis->tone.clippedSamples + analysis->tone.clippedElsewhere; clipped > 0)
        notes.push_back(fmt::format("clipped: {} samples at full scale; the levels are too low", clipped));
    if (const auto headroom_dB = analysis->tone.wholeHeadroom_dB; headroom_dB && *headroom_dB < 0.0)
        notes.push_back(beyondSentence(*headroom_dB));
    if (analysis->tone.brokenSamples > 0)
        notes.push_back(brokenSentence(analysis->tone.brokenSamples));
    for (auto& sentence : breakSentences(analysis->tone.breaks, false, analysis->tone.duration_s))
        notes.push_back(std::move(sentence));
    for (const Flaw& flaw : analysis->tone.flaws) // a broadband level may hold several sounds and levels; no other flaw
        if (flaw.kind == Flaw::Kind::dropOuts || flaw.kind == Flaw::Kind::cutPeaks)
            notes.push_back(flaw.sentence);
    const TakeAnalysis& e = *analysis;
    if (e.sampleRate_Hz < 44100.0)
        notes.push_back("below 44.1 kHz sampling the weightings end with the take's own band, and A may err by 0.3 dB");
    if (!e.levels[0].slowMin)
        notes.push_back("shorter than 5 s: a slow minimum needs five time constants");
    if (e.levels[0].fastMin == 0.0)
        notes.push_back("the take holds digital silence, which has no level: a minimum of it is left out");
    notes.push_back("peak: C between samples, A and Z at the samples");

    const double offset_dB = offset ? offset->level_dB : 0.0;
    const char* unit = offset ? "dB SPL" : "dBFS";
    JsonObject object{{"unit", unit}, {"duration_s", e.duration_s}, {"sample_rate_hz", e.sampleRate_Hz}};
    object.emplace_back("offset_db", number(offset ? std::optional(offset->level_dB) : std::nullopt));
    object.emplace_back("offset_expanded_uncertainty_db",
                        number(offsetU ? std::optional(roundedUp_dB(offsetU->U_dB)) : std::nullopt));
    std::string text = fmt::format("{:.2f} s at {:g} Hz, {}\n", e.duration_s, e.sampleRate_Hz, unit);
    if (offset)
        text += fmt::format("offset {}, dB SPL at 0 dBFS\n", withUncertainty(offset->level_dB, offsetU));
    text += "          Leq  exposure  fast max  fast min  slow max  slow min     peak\n";
    for (std::size_t w = 0; w < weightings; ++w) {
        const Row r = rowOf(e.levels[w], e.duration_s, offset_dB);
        object.push_back({names[w], JsonObject{{"leq_db", number(r.leq)},
                                               {"exposure_db", number(r.exposure)},
                                               {"fast_max_db", number(r.fastMax)},
                                               {"fast_min_db", number(r.fastMin)},
                                               {"slow_max_db", number(r.slowMax)},
                                               {"slow_min_db", number(r.slowMin)},
                                               {"peak_db", number(r.peak)}}});
        text += fmt::format("  {} {}{} {} {} {} {}{}\n", names[w], cell(r.leq), cell(r.exposure), cell(r.fastMax),
                            cell(r.fastMin), cell(r.slowMax), cell(r.slowMin), cell(r.peak));
    }
    JsonList list;
    for (const auto& note : notes) {
        list.push_back(note);
        text += "note: " + note + "\n";
    }
    object.push_back({"notes", list});
    return Answer{arguments.has("json") ? printedJson(object, JsonLayout::line) + "\n" : text, 0};
}

} // namespace couplet
