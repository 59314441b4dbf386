// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FormerNames.h"

#include "Library/VersionStore.h"

#include <algorithm>

namespace couplet {
namespace {

namespace fs = std::filesystem;

bool wasCalled(const Entry& entry, const std::string& name, const FolderContent& content, const fs::path& root)
{
    const auto files = versionFilesIn(versionFolderOf(root, entry, content));
    if (!files)
        return false;
    return std::any_of(files->begin(), files->end(), [&](const VersionFile& version) {
        const auto read = readItemFile(version.file, root);
        return read && read->item && nameOf(*read->item) == name;
    });
}

// The name that it has now, where it has another.
std::string nameNow(const std::string& name, const std::string& kind, const FolderContent& content,
                    const fs::path& root)
{
    if (name.empty() || content.find(kind, name))
        return name;
    const auto found = std::find_if(content.entries.begin(), content.entries.end(), [&](const Entry& entry) {
        return kindOf(entry.item) == kind && wasCalled(entry, name, content, root);
    });
    return found == content.entries.end() ? name : nameOf(found->item);
}

void join(std::vector<std::string>& names, const std::vector<std::string>& others)
{
    for (const auto& name : others)
        if (std::find(names.begin(), names.end(), name) == names.end())
            names.push_back(name);
}

bool isSame(const Correction& a, const Correction& b)
{
    return a.value_dB == b.value_dB && a.origin == b.origin && a.date == b.date;
}

} // namespace

void followNames(Item& item, const Item* present, const FolderContent& content, const fs::path& root)
{
    const auto follow = [&](std::vector<std::string>& names, const std::string& kind) {
        std::vector<std::string> now;
        for (const auto& name : names)
            join(now, {nameNow(name, kind, content, root)});
        names = std::move(now);
    };
    if (auto* earphone = std::get_if<Earphone>(&item)) {
        follow(earphone->choseCorrectionOf, "coupler");
        if (present)
            join(earphone->choseCorrectionOf, std::get<Earphone>(*present).choseCorrectionOf);
    }
    auto* coupler = std::get_if<Coupler>(&item);
    if (!coupler || !coupler->correction)
        return;
    auto& correction = *coupler->correction;
    correction.calibrator = nameNow(correction.calibrator, "calibrator", content, root);
    if (!correction.chosenBy)
        return;
    follow(*correction.chosenBy, "earphone");
    const auto* there = present ? &std::get<Coupler>(*present).correction : nullptr;
    if (there && *there && (*there)->chosenBy && isSame(**there, correction))
        join(*correction.chosenBy, *(*there)->chosenBy);
}

} // namespace couplet
