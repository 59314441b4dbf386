// SPDX-License-Identifier: GPL-3.0-or-later
#include "Fuzz/Parsers.h"

#include "Bench/PastedReadings.h"
#include "Bench/ReadingsTable.h"
#include "Bench/Session.h"
#include "Command/TakeFile.h"
#include "Library/Bundle.h"
#include "Library/HistoryFiles.h"
#include "Library/IsoTime.h"
#include "Library/ItemJson.h"
#include "Library/Names.h"
#include "Library/ResponseTable.h"
#include "Library/Utf8.h"
#include "Library/VersionName.h"
#include "Quantities/QuantityText.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <sys/mman.h>
#include <unistd.h>
#include <variant>
#include <vector>

namespace couplet::fuzz {
namespace {

template <class T> bool isThere(const Outcome<T>& outcome)
{
    if (!outcome)
        holdSentence(outcome.fault().sentence);
    return static_cast<bool>(outcome);
}

// What was read is written and read again as the same.
void readItem(std::string_view bytes)
{
    const auto item = itemFrom(bytes, "file");
    if (!isThere(item))
        return;
    const auto again = itemFrom(textOf(*item), "file");
    hold(again && *again == *item, "an item that was read comes back from its text");
    hold(textOf(*again) == textOf(*item), "and its text byte for byte");
}

void readLibrary(std::string_view bytes)
{
    const auto items = itemsFrom(bytes, "file");
    if (!isThere(items))
        return;
    const auto text = bundleTextOf(*items);
    if (!isThere(text)) // too large
        return;
    const auto again = itemsFrom(*text, "file");
    hold(again && *again == *items, "a library that was read comes back from its text");
}

void readResponse(std::string_view bytes)
{
    const auto table = parseResponseTable(bytes, "file");
    if (!isThere(table))
        return;
    hold(table->size() >= 2, "a response table has two rows");
    for (std::size_t i = 0; i < table->size(); ++i) {
        const auto& row = (*table)[i];
        hold(std::isfinite(row.frequency.value) && row.frequency.value > 0.0, "a frequency is above zero");
        hold(std::abs(row.response_dB) <= 40.0, "a response is within 40 dB");
        hold(i == 0 || (*table)[i - 1].frequency.value < row.frequency.value, "frequencies ascend");
    }
}

void holdLevels(const std::vector<FitReading>& readings)
{
    for (const auto& reading : readings)
        hold(std::isfinite(reading.level_dB) && std::abs(reading.level_dB) <= 300.0, "a level is within range");
}

void readPasted(std::string_view bytes)
{
    const auto pasted = pastedReadings(bytes, "clipboard");
    if (!isThere(pasted))
        return;
    const auto* column = std::get_if<std::vector<double>>(&*pasted);
    if (column == nullptr)
        return;
    hold(!column->empty(), "a column has a reading");
    for (const double level_dB : *column)
        hold(std::isfinite(level_dB) && std::abs(level_dB) <= 300.0, "a level is within range");
}

void readReadings(std::string_view bytes)
{
    readPasted(bytes);
    if (const auto pasted = pastedReadings(bytes, "pasted"); isThere(pasted))
        if (const auto* levels_dB = std::get_if<std::vector<double>>(&*pasted))
            for (const double level_dB : *levels_dB)
                hold(std::isfinite(level_dB) && std::abs(level_dB) <= 300.0, "a level of a column is within range");
    const auto input = readingsFromTable(bytes, "file");
    if (!isThere(input))
        return;
    holdLevels(input->through.readings);
    for (const auto& fitting : input->fittings)
        holdLevels(fitting.readings);
}

void readQuantity(std::string_view text)
{
    const auto holdFinite = [](const auto& outcome, auto valueOf) {
        if (isThere(outcome))
            hold(std::isfinite(valueOf(*outcome)), "a quantity is finite");
    };
    const auto value = [](const auto& quantity) { return quantity.value; };
    holdFinite(parseVolts(text), value);
    holdFinite(parseOhms(text), value);
    holdFinite(parseSourceOhms(text), value);
    holdFinite(parseHertz(text), value);
    holdFinite(parseKilopascals(text), value);
    holdFinite(parsePercent(text), value);
    holdFinite(parseDecibels(text), [](double dB) { return dB; });
}

// A host hands a session back as it was written, or as somebody has changed it: what is read is written and read again
// as the same, with the fit that could not be read beside it.
void readSession(std::string_view bytes)
{
    const auto saved = savedSessionFrom(bytes);
    if (!isThere(saved))
        return;
    if (!saved->notice.empty())
        holdSentence(saved->notice);
    hold(saved->notice.empty() == saved->session.unreadFit.empty(), "a fit that is not read is kept, and only that");
    for (std::size_t i = 0; i < parameterCount; ++i)
        hold(saved->parameters[i] >= parameterLines()[i].low && saved->parameters[i] <= parameterLines()[i].high,
             "a parameter is within its range");
    const auto text = textOf(*saved);
    const auto again = savedSessionFrom(text);
    hold(again && again->session == saved->session && again->parameters == saved->parameters,
         "a session that was read comes back from its text");
    hold(textOf(*again) == text, "and its text byte for byte");
}

void readSheet(std::string_view bytes)
{
    const auto parsed = parsedJson(bytes, "sheet");
    if (!isThere(parsed))
        return;
    FirstFault faults("sheet");
    Fields fields(*parsed->as<JsonObject>(), "", faults);
    const auto sheet = fitSheetFrom(fields);
    if (faults.fault())
        return holdSentence(faults.fault()->sentence);
    holdLevels(sheet.input.through.readings);
    for (const auto& fitting : sheet.input.fittings)
        holdLevels(fitting.readings);
    const JsonObject object = jsonOf(sheet);
    const auto text = printedJson(object, JsonLayout::line);
    hold(text.size() <= bytesOf(sheet), "a sheet's size is not underrated");
    FirstFault none("sheet");
    Fields own(object, "", none);
    hold(fitSheetFrom(own) == sheet && !none.fault(), "a sheet that was read comes back from its text");
}

// Two names, or three, one a line: what is kept stays as it is, and looking the same is what any two of them make of it.
void readNames(std::string_view bytes)
{
    const auto cut = std::min(bytes.find('\n'), bytes.size());
    const auto first = bytes.substr(0, cut), second = bytes.substr(std::min(cut + 1, bytes.size()));
    for (const auto name : {first, second}) {
        const auto kept = keptName(name), look = lookOf(name);
        const bool isText = charactersOf(name).has_value();
        hold(charactersOf(kept).has_value() == isText, "a name that is kept is UTF-8 when it was");
        hold(isText || kept == name, "what is no UTF-8 stays as it is");
        hold(keptName(kept) == kept, "a name that is kept stays when it is given again");
        hold(lookOf(look) == look, "a look has its own look");
        hold(lookTheSame(name, name) && lookTheSame(name, kept) && lookTheSame(name, look),
             "a name looks like itself, like what is kept of it and like its look");
    }
    const bool same = lookTheSame(first, second);
    hold(same == lookTheSame(second, first), "looking the same goes both ways");
    hold(same == (lookOf(first) == lookOf(second)), "looking the same is having one look");
    hold(same == lookTheSame(keptName(first), keptName(second)), "what is kept looks the same as what was written");
    const auto joined = std::string(first) + "\u200B \u2060" + std::string(second);
    if (charactersOf(joined))
        hold(lookTheSame(joined, " " + keptName(joined) + "\uFEFF "), "what nobody sees does not count");
}

// A coupler's history file: its references are written and read again as the same.
void readHistory(std::string_view bytes)
{
    const auto references = historyFrom(bytes, "file");
    if (!isThere(references))
        return;
    hold(!references->empty(), "a history file has a reference");
    const auto text = printedJson(
        JsonObject{
            {"kind", "coupler history"}, {"version", 1}, {"name", "coupler"}, {"references", listOf(*references)}},
        JsonLayout::file);
    if (text.size() > largestJson_bytes)
        return;
    const auto again = historyFrom(text, "file");
    hold(again && *again == *references, "a history that was read comes back from its text");
    const ReferenceIndex index(*references);
    for (const auto& reference : *references) {
        const auto* found = index.find(reference);
        hold(found != nullptr && isSameReference(*found, reference), "a reference is found among its own");
    }
}

// The name of a version's file: what it says gives a name that says the same.
void readVersion(std::string_view bytes)
{
    const auto version = versionNamed(bytes);
    if (!version)
        return;
    hold(version->file == std::filesystem::path(bytes), "a version's file is the one that was asked for");
    hold(version->number >= 1, "a version's number counts from 1");
    hold(instantFrom(version->until).has_value(), "a version has a time");
    const auto name = versionName(version->number, version->until, version->how);
    const auto again = versionNamed(name);
    hold(again && again->number == version->number && again->until == version->until && again->how == version->how,
         "what a version's name says comes back from its own name");
    hold(versionName(again->number, again->until, again->how) == name, "and that name byte for byte");
}

// A take is read from its file: one in memory.
void readTake(std::string_view bytes)
{
    const int memory = ::memfd_create("take", 0);
    hold(memory >= 0, "there is memory for a file");
    hold(::write(memory, bytes.data(), bytes.size()) == static_cast<ssize_t>(bytes.size()), "it takes the bytes");
    const auto take = TakeFile::open("/proc/self/fd/" + std::to_string(memory));
    if (isThere(take)) {
        std::int64_t heard = 0;
        hold(take->channels() >= 1 && take->sampleRate_Hz() >= 8000.0, "a take has channels and a rate");
        isThere(take->read({1}, [&](const float* const* channels, int samples) {
            hold(channels[0] != nullptr && samples >= 1 && samples <= TakeFile::largestBlock, "blocks are as promised");
            heard += samples;
        }));
        hold(heard <= take->lengthInSamples(), "no sample is made up");
    }
    ::close(memory);
}

} // namespace

const std::vector<Parser>& parsers()
{
    static const std::vector<Parser> all{
        {"item", readItem},         {"library", readLibrary}, {"response", readResponse}, {"readings", readReadings},
        {"quantity", readQuantity}, {"take", readTake},       {"session", readSession},   {"sheet", readSheet},
        {"names", readNames},       {"history", readHistory}, {"version", readVersion}};
    return all;
}

void hold(bool holds, const char* what)
{
    if (holds)
        return;
    std::fprintf(stderr, "does not hold: %s\n", what);
    std::abort();
}

void holdSentence(const std::string& sentence)
{
    hold(!sentence.empty(), "a fault has a sentence");
    hold(sentence.find_first_of("\r\n") == std::string::npos, "a sentence is one line");
}

} // namespace couplet::fuzz
