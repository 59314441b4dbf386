// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a screen asks of the library's files. Each piece of work is carried out on the keeper's thread and sees nothing
// of the desk; only its ending does.
#include "Plugin/LibraryDesk.h"

#include "Library/ResponseTable.h"
#include "Library/Utf8.h"
#include "Plugin/FolderActions.h"
#include "Plugin/Processor.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace couplet {

void LibraryDesk::change(const std::string& name, Change change, std::string sentence, std::string undoWords)
{
    onFiles([this, name, change = std::move(change), sentence = std::move(sentence),
             undoWords = std::move(undoWords)](const Folder& folder) -> Ending {
        const auto before = folder.coupler(name);
        if (!before)
            return [this, fault = before.fault()] { refuse(fault); };
        Coupler after = *before;
        auto fault = change(after);
        if (!fault)
            if (const auto saved = folder.save(after); !saved)
                fault = saved.fault();
        if (fault)
            return [this, fault = *fault] { refuse(fault); };
        return [this, before = *before, after, sentence, undoWords] {
            replaceInSession(before, after);
            done(sentence, wayBack(before, after, undoWords));
        };
    });
}

void LibraryDesk::setFields(const std::string& name, const CouplerFields& fields)
{
    change(
        name,
        [fields](Coupler& coupler) -> std::optional<Fault> {
            coupler.kind = fields.kind;
            coupler.serial = fields.serial;
            coupler.microphone = fields.microphone;
            coupler.input = fields.input;
            coupler.gainNote = fields.gainNote;
            coupler.allowedAge_h = fields.allowedAge_h;
            return {};
        },
        fmt::format("{} was changed", inQuotes(name)), fmt::format("what {} said before", inQuotes(name)));
}

void LibraryDesk::attachResponse(const std::string& name, const std::filesystem::path& file)
{
    if (name.empty())
        return say(fmt::format("{}: a response table belongs to a coupler; select one first", file.string()), true);
    change(
        name,
        [file](Coupler& coupler) -> std::optional<Fault> {
            auto table = readResponseTable(file);
            if (!table)
                return table.fault();
            coupler.response = *std::move(table);
            coupler.responseSource = file.filename().string();
            return {};
        },
        fmt::format("{} has the response table of {}", inQuotes(name), inQuotes(file.filename().string())),
        fmt::format("the response table that {} had before", inQuotes(name)));
}

// Undone by removing it again: its file stays in the folder even then.
void LibraryDesk::addNew(std::function<Outcome<std::string>(const Folder&)> add, const std::string& verb)
{
    onFiles([this, add = std::move(add), verb](const Folder& folder) -> Ending {
        const auto name = add(folder);
        if (!name)
            return [this, fault = name.fault()] { refuse(fault); };
        return [this, name = *name, verb] {
            select(name);
            done(fmt::format("{} was {}", inQuotes(name), verb),
                 {fmt::format("the library without {}", inQuotes(name)), [this, name] { remove(name); }});
        };
    });
}

std::vector<std::string> LibraryDesk::newKinds()
{
    return presetNames();
}

void LibraryDesk::make(const std::string& kind)
{
    addNew([kind](const Folder& folder) { return madeIn(folder, kind); }, "made");
}

void LibraryDesk::copy(const std::string& name)
{
    addNew([name](const Folder& folder) { return copiedIn(folder, name); },
           "made, like " + inQuotes(name) + " but without references");
}

void LibraryDesk::rename(const std::string& name, const std::string& next)
{
    if (name == next)
        return;
    onFiles([this, name, next](const Folder& folder) -> Ending {
        const auto before = folder.coupler(name);
        const auto after = before ? renamedIn(folder, name, next) : before;
        if (!after)
            return [this, fault = after.fault()] { refuse(fault); };
        return [this, before = *before, after = *after] {
            replaceInSession(before, after);
            renameInEarphones(before.name, after.name);
            renameInFit(before.name, after.name);
            select(after.name);
            done(fmt::format("{} is called {} now", inQuotes(before.name), inQuotes(after.name)),
                 {fmt::format("the name {}", inQuotes(before.name)),
                  [this, from = after.name, to = before.name] { rename(from, to); }});
        };
    });
}

// The session goes on with its own copy; that the library lacks it then is no news to whoever removed it.
void LibraryDesk::remove(const std::string& name)
{
    onFiles([this, name](const Folder& folder) -> Ending {
        const auto removed = removedFrom(folder, name);
        if (!removed)
            return [this, fault = removed.fault()] { refuse(fault); };
        return [this, name, address = *removed] {
            for (auto& question : questionsOf(processor.sessionNow(), *listing))
                if (question.session.name == name)
                    left.push_back(question);
            done(fmt::format("{} was removed from the library", inQuotes(name)),
                 {inQuotes(name), [this, name, address] { putBack(name, address); }});
        };
    });
}

void LibraryDesk::putBack(const std::string& name, const std::string& address)
{
    onFiles([this, name, address](const Folder& folder) -> Ending {
        const auto back = folder.putBack(address);
        if (!back)
            return [this, fault = back.fault()] { refuse(fault); };
        return [this, name] {
            select(name);
            say(fmt::format("{} is in the library again", inQuotes(name)));
        };
    });
}

// Who is asked first has the answer: what has only new and same items goes in at once.
void LibraryDesk::importFiles(const std::vector<std::filesystem::path>& files)
{
    if (files.empty())
        return;
    onFiles([this, files](const Folder& folder) -> Ending {
        auto plan = importPlanOf(folder, files);
        if (!plan)
            return [this, fault = plan.fault()] { refuse(fault); };
        if (!plan->question.differing.empty())
            return [this, plan = *std::move(plan)] {
                toImport = plan.items;
                shown.import = plan.question;
            };
        return importEnding(this, folder, plan->items);
    });
}

void LibraryDesk::answerImport(bool goOn)
{
    shown.import.reset();
    auto items = std::exchange(toImport, {});
    if (!goOn || items.empty())
        return say("nothing was imported");
    onFiles([this, items = std::move(items)](const Folder& folder) { return importEnding(this, folder, items); });
}

LibraryDesk::Ending LibraryDesk::importEnding(LibraryDesk* desk, const Folder& folder, const std::vector<Item>& items)
{
    const auto imported = importedInto(folder, items);
    if (!imported)
        return [desk, fault = imported.fault()] { desk->refuse(fault); };
    return [desk, report = *imported] {
        if (!report.firstCoupler.empty())
            desk->select(report.firstCoupler);
        desk->done(report.sentence, {}); // what was overwritten is a version of its item
    };
}

void LibraryDesk::exportTo(const std::string& name, const std::filesystem::path& file)
{
    onFiles([this, name, file](const Folder& folder) -> Ending {
        const auto written = exportedFrom(folder, name, file);
        if (!written)
            return [this, fault = written.fault()] { refuse(fault); };
        const auto what = name.empty() ? "the library" : inQuotes(name);
        return [this, what, file] { say(fmt::format("{} was written to {}", what, file.string())); };
    });
}

} // namespace couplet
