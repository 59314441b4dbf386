// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Folder.h"

#include "Library/Descriptor.h"
#include "Library/FolderScan.h"
#include "Library/ItemJson.h"
#include "Library/Json.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <cstdlib>
#include <pwd.h>
#include <unistd.h>

namespace couplet {
namespace {

namespace fs = std::filesystem;

std::optional<fs::path> folderIn(const char* variable)
{
    const char* value = std::getenv(variable);
    return value && *value != '\0' ? std::optional<fs::path>(value) : std::nullopt;
}

fs::path home()
{
    if (const auto folder = folderIn("HOME"))
        return *folder;
    const auto* user = ::getpwuid(::getuid());
    return user && user->pw_dir ? fs::path(user->pw_dir) : fs::path("/");
}

} // namespace

Folder::Folder(fs::path path) : root(std::move(path)) {}

fs::path Folder::defaultPath()
{
    if (const auto chosen = folderIn("COUPLET_LIBRARY"))
        return *chosen;
    // XDG Base Directory Specification: a path that is not absolute is to be ignored.
    if (const auto data = folderIn("XDG_DATA_HOME"); data && data->is_absolute())
        return *data / "Couplet";
    return home() / ".local" / "share" / "Couplet";
}

Folder::Listing Folder::list() const
{
    auto content = scanFolder(root);
    Listing listing;
    for (auto& entry : content.entries)
        listing.items.push_back(std::move(entry.item));
    for (auto& file : content.unreadable)
        listing.unreadable.push_back(std::move(file.fault));
    listing.lookAlikes = std::move(content.lookAlikes);
    return listing;
}

bool Folder::holdsCoupler(const std::string& name) const
{
    return !scanFolder(root).alike("coupler", name).empty();
}

Outcome<Item> Folder::readFile(const fs::path& file)
{
    const auto text = contentOf(file, largestJson_bytes);
    if (!text)
        return Fault{fmt::format("{}: it could not be read ({}); check its name and its permissions",
                                 onOneLine(file.string()), text.fault().sentence)};
    auto item = itemFrom(*text, onOneLine(file.string()));
    auto* coupler = item ? std::get_if<Coupler>(&*item) : nullptr;
    std::vector<HistoryFault> faults;
    if (coupler != nullptr)
        joinOlder(*coupler, file.parent_path(), faults);
    if (!faults.empty())
        return faults.front().fault;
    return item ? withKeptName(*std::move(item), onOneLine(file.string())) : item;
}

Outcome<Done> Folder::writeFile(const fs::path& file, const Item& item)
{
    const auto text = textOf(item);
    if (const auto good = itemFrom(text, kindOf(item) + " " + inQuotes(nameOf(item))); !good)
        return good.fault();
    std::error_code error;
    if (fs::exists(file, error))
        if (const auto there = readFile(file); !there)
            return Fault{fmt::format("{} holds something else and is left as it is ({}); choose another name",
                                     inQuotes(file.string()), there.fault().sentence)};
    return replaceFile(file, text, true);
}

} // namespace couplet
