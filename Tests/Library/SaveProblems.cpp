// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/SaveProblems.h"

#include "Library/Bundle.h"
#include "Library/EveryStep.h"
#include "Library/Presets.h"

namespace couplet::tests::scenarios {

namespace fs = std::filesystem;

const std::string firstReading = R"({"level_db": 93.97})", nextReading = R"({"level_db": 94.01})";

Coupler coupler(const std::string& name, const std::string& serial)
{
    auto made = fullCoupler(name);
    made.serial = serial;
    return made;
}

const Coupler older = coupler("c", "older"), before = coupler("c", "before"), after = coupler("c", "after");

Coupler another(const std::string& name)
{
    auto made = coupler(name, "of its own");
    made.slot = 3;
    return made;
}

namespace {

bool fileHolds(const fs::path& file, const Item& item)
{
    const auto read = Folder::readFile(file);
    return read && *read == item;
}

fs::path backupOf(const Folder& folder, const Item& item)
{
    return folder.path() / (fileNameOf(item) + ".bak");
}

std::string untouched(const Folder& folder)
{
    if (itemIn<Calibrator>(folder, "k") != fullCalibrator("k"))
        return "the calibrator beside it is another";
    if (contentOfFile(folder.path() / "readings.jsonl") != firstReading + "\n")
        return "the reading beside it is another";
    return "";
}

} // namespace

std::string saved(const Folder& folder, bool done)
{
    const auto now = itemIn<Coupler>(folder, "c");
    if (now == after && fileHolds(backupOf(folder, before), before))
        return isAVersion(folder, "c", before) ? untouched(folder) : "the one before is no version";
    if (done || now != before)
        return "neither the version before nor the new one with the one before as its backup";
    return untouched(folder);
}

Coupler withLongReferences(int count)
{
    auto made = coupler("c", "long");
    for (int i = 0; i < count; ++i) { // a few of 50 kB each, so that a test can save them a thousand times
        made.references.push_back(referenceAt("2026-06-0" + std::to_string(i % 9 + 1) + "T12:00:00Z", 100.0 + i));
        made.references.back().source = std::string(50000, static_cast<char>('a' + i));
    }
    return made;
}

const Coupler beforeRoll = withLongReferences(8), afterRoll = withLongReferences(12);

std::string rolledOver(const Folder& folder, bool done)
{
    const auto now = itemIn<Coupler>(folder, "c");
    if (now == afterRoll && fileHolds(backupOf(folder, before), beforeRoll))
        return untouched(folder);
    if (done || now != beforeRoll)
        return "neither the version before nor the new one with the one before as its backup";
    return untouched(folder);
}

std::string rolledOverFirst(const Folder& folder, bool done)
{
    const auto now = itemIn<Coupler>(folder, "c");
    return (now ? now == afterRoll : !done) ? "" : "the long coupler is not there, or not whole";
}

std::string savedFirst(const Folder& folder, bool done)
{
    const auto now = itemIn<Coupler>(folder, "new");
    if (now ? now != another("new") : done)
        return "the new coupler is not there, or not whole";
    if (itemIn<Coupler>(folder, "c") != before)
        return "the coupler beside it is another";
    return untouched(folder);
}

std::string savedIntoNothing(const Folder& folder, bool done)
{
    const auto now = itemIn<Coupler>(folder, "c");
    return (now ? now == before : !done) ? "" : "the first coupler of all is not there, or not whole";
}

std::string removed(const Folder& folder, bool done)
{
    if (const auto now = itemIn<Coupler>(folder, "c"))
        return done || now != before ? "it is there again, or another" : untouched(folder);
    if (!isAVersion(folder, "c", before))
        return "it is no version";
    return fileHolds(backupOf(folder, before), before) ? untouched(folder) : "its backup is gone";
}

std::string versionPutBack(const Folder& folder, bool done)
{
    const auto now = itemIn<Coupler>(folder, "c");
    if (now != older && (done || now != before))
        return "neither the version nor what stood";
    if (!isAVersion(folder, "c", older) || (now == older && !isAVersion(folder, "c", before)))
        return "a version is gone";
    if (now == older && !fileHolds(backupOf(folder, before), before))
        return "what stood is not its backup";
    return untouched(folder);
}

std::string read(const Folder& folder, bool done)
{
    const auto text = contentOfFile(folder.path() / "readings.jsonl");
    if (text.rfind(firstReading + "\n", 0) != 0)
        return "the reading before is gone";
    return done && !text.ends_with("\n" + nextReading + "\n") ? "the reading is not there" : "";
}

std::string readFirst(const Folder& folder, bool done)
{
    const auto text = contentOfFile(folder.path() / "readings.jsonl");
    return done && !("\n" + text).ends_with("\n" + nextReading + "\n") ? "the first reading of all is not there" : "";
}

std::string renamed(const Folder& folder, bool done)
{
    auto expected = before;
    expected.name = "d";
    const auto oldOne = itemIn<Coupler>(folder, "c"), newOne = itemIn<Coupler>(folder, "d");
    if (oldOne.has_value() == newOne.has_value())
        return "it is under both names or under none";
    if (newOne ? newOne != expected : done || oldOne != before)
        return "it is another, or has its old name";
    if (newOne && !isAVersion(folder, "d", before))
        return "the one before is no version";
    return untouched(folder);
}

std::string copied(const Folder& folder, bool done)
{
    if (itemIn<Coupler>(folder, "c") != before)
        return "the original is another";
    const auto copy = itemIn<Coupler>(folder, "c copy");
    return (copy ? copy->response == before.response : !done) ? untouched(folder)
                                                              : "the copy is not there, or not whole";
}

std::string putBack(const Folder& folder, bool done)
{
    const auto now = itemIn<Coupler>(folder, "c");
    if (now ? now != before : done)
        return "it is not back";
    if (!now && !fileHolds(backupOf(folder, before), before))
        return "it can no more be put back";
    return untouched(folder);
}

std::string imported(const Folder& folder, bool done)
{
    const auto fresh = itemIn<Coupler>(folder, "new");
    const auto earphone = itemIn<Earphone>(folder, "e");
    if ((fresh && fresh != another("new")) || (earphone && earphone != fullEarphone("e")))
        return "an item is not whole";
    if (done && !(fresh && earphone))
        return "an item is not there";
    return untouched(folder);
}

std::string madeWay(const Folder& folder, bool done)
{
    if (itemIn<Coupler>(folder, "x") != another("x"))
        return "the coupler that had the file is gone";
    const auto now = itemIn<Earphone>(folder, "e");
    return (now ? now == fullEarphone("e") : !done) ? untouched(folder) : "the new item is not there, or not whole";
}

std::string started(const Folder& folder, bool done)
{
    if (!fs::exists(folder.path()))
        return done ? "there is no library" : "";
    return folder.list().items == presets() ? "" : "the library is there, and not whole";
}

std::string exported(const Folder& folder, bool done)
{
    const auto file = folder.path().parent_path() / "all.json";
    if (!done && !fs::exists(file))
        return "";
    const auto items = readItems(file);
    return items && *items == folder.list().items ? "" : "the file is not there, or not whole";
}

} // namespace couplet::tests::scenarios
