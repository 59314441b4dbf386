// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a coupler was before its changes: listed, put back, and that undone.
#include "Plugin/LibraryDesk.h"

#include "Library/Utf8.h"
#include "Plugin/FolderActions.h"

#include <fmt/format.h>

#include <utility>

namespace couplet {
namespace {

VersionsView viewOf(const Versions& versions)
{
    VersionsView view;
    view.coupler = versions.name;
    for (const auto& version : versions.list)
        view.rows.push_back({version.number, version.until, version.change});
    for (const auto& fault : versions.unreadable)
        view.unreadable.push_back(fault.sentence);
    return view;
}

} // namespace

LibraryDesk::Undo LibraryDesk::wayBack(const Coupler& before, const Coupler& after, const std::string& words)
{
    return {words, [this, before, after, words] {
                onFiles([this, before, after, words](const Folder& folder) -> Ending {
                    const auto saved = folder.save(before);
                    if (!saved)
                        return [this, fault = saved.fault()] { refuse(fault); };
                    return [this, before, after, words] {
                        replaceInSession(after, before);
                        say(fmt::format("{} is back", words));
                    };
                });
            }};
}

void LibraryDesk::listVersions(const std::string& name)
{
    versionsOfCoupler = name;
    shown.versions.reset();
    ++shown.revision;
    readVersions();
}

// Read again with every change of the library, as long as they are asked for.
void LibraryDesk::readVersions()
{
    if (versionsOfCoupler.empty())
        return;
    onFiles([this, name = versionsOfCoupler](const Folder& folder) -> Ending {
        auto versions = versionsIn(folder, name);
        return [this, name, versions = std::move(versions)] {
            if (name != versionsOfCoupler)
                return; // another is asked about by now
            if (!versions) {
                const bool wereShown = shown.versions.has_value();
                versionsOfCoupler.clear();
                shown.versions.reset();
                return wereShown ? void() : refuse(versions.fault()); // it went away: that shows elsewhere
            }
            shown.versions = viewOf(*versions);
        };
    });
}

void LibraryDesk::putBackVersion(const std::string& name, int number)
{
    onFiles([this, name, number](const Folder& folder) -> Ending {
        auto back = versionPutBackIn(folder, name, number);
        if (!back)
            return [this, fault = back.fault()] { refuse(fault); };
        return [this, name, number, back = *std::move(back)] {
            const auto& before = std::get<Coupler>(back.before);
            const auto& now = std::get<Coupler>(back.now);
            if (!back.isChanged)
                return say(
                    fmt::format("{} stood so already: its name and its references stay in any case", inQuotes(name)));
            replaceInSession(before, now);
            done(fmt::format("{} is as it was in version {}{}", inQuotes(name), number,
                             back.stayed > 0 ? "; its references stayed" : ""),
                 wayBack(before, now, fmt::format("what {} was before", inQuotes(name))));
        };
    });
}

} // namespace couplet
