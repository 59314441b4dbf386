// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReadingJson.h"
#include "Command/BenchArguments.h"
#include "Command/BenchText.h"
#include "Command/TakeAnalysis.h"
#include "Command/Verb.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <filesystem>

namespace couplet {
namespace {

// A line of `readings.jsonl` holds all that the reading rests on.
std::string recordOf(const Reading& reading, const Setup& setup, const std::string& take)
{
    JsonObject record{{"kind", "reading"}, {"version", 1}, {"taken_at", setup.now}, {"source", take}};
    for (auto& field : jsonOf(reading))
        record.push_back(std::move(field));
    if (const Reference* reference = setup.coupler ? setup.coupler->current() : nullptr) {
        JsonObject told{{"taken_at", reference->takenAt},
                        {"offset_db", reference->offset_dB},
                        {"calibrator", reference->calibrator}};
        if (reference->moved_dB)
            told.emplace_back("moved_db", *reference->moved_dB);
        record.push_back({"reference", std::move(told)});
    }
    return printedJson(record, JsonLayout::line);
}

Outcome<Setup> setupOf(const Arguments& arguments, const Folder& folder)
{
    Setup setup;
    setup.now = timeNow();
    if (const auto done = addCoupler(setup, arguments, folder); !done)
        return done.fault();
    if (const auto done = addEarphone(setup, arguments, folder); !done)
        return done.fault();
    if (const auto done = addDrive(setup, arguments); !done)
        return done.fault();
    const auto largest = arguments.quantity<double>("largest-uncertainty", parseDecibels);
    if (!largest)
        return largest.fault();
    if (*largest && **largest <= 0.0)
        return Fault{"--largest-uncertainty: the largest uncertainty that still counts as agreement is above 0 dB"};
    setup.largestU_dB = largest->value_or(defaultLargestU_dB);
    const auto channel = microphoneChannel(arguments);
    if (!channel)
        return channel.fault();
    setup.channel = *channel;
    return setup;
}

} // namespace

Outcome<Answer> runRead(const Arguments& arguments)
{
    const Folder folder = libraryOf(arguments);
    const auto setup = setupOf(arguments, folder);
    if (!setup)
        return setup.fault();
    const auto driveChannel = arguments.channel("drive-channel");
    if (!driveChannel)
        return driveChannel.fault();
    if (*driveChannel && **driveChannel == setup->channel)
        return Fault{fmt::format("--drive-channel {} is the microphone's channel too: they are two", **driveChannel)};

    const std::string& take = arguments.words().front();
    const auto analysis = analyseTake(take, setup->channel, *driveChannel);
    if (!analysis)
        return analysis.fault();
    Reading reading = makeReading(analysis->tone, *setup);
    if (arguments.has("keep")) {
        if (!reading.measured)
            reading.notes.push_back("not kept: there is no level to keep");
        else if (const auto kept =
                     folder.appendReading(recordOf(reading, *setup, std::filesystem::path(take).filename().string()));
                 !kept)
            return kept.fault();
    }
    Answer answer;
    answer.status = reading.answersNo() ? 1 : 0;
    answer.text = arguments.has("json") ? printedJson(jsonOf(reading), JsonLayout::line) + "\n" : textOf(reading);
    return answer;
}

} // namespace couplet
