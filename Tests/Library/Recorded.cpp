// SPDX-License-Identifier: GPL-3.0-or-later
//
// The half of PowerCut that listens.
#include "Library/PowerCut.h"
#include "Library/Scratch.h"

#include <fcntl.h>
#include <stdexcept>
#include <sys/stat.h>

namespace couplet::tests {

namespace fs = std::filesystem;

Recorded::Recorded(const fs::path& folder) : root(folder.string())
{
    add(folder);
    for (const auto& node : nodes) {
        namesNow.push_back(node.names);
        sizeNow.push_back(node.bytes.size());
    }
}

int Recorded::add(const fs::path& path)
{
    struct stat status = {};
    if (::lstat(path.c_str(), &status) != 0 || !(S_ISDIR(status.st_mode) || S_ISREG(status.st_mode)))
        throw std::runtime_error("only files and folders can be watched");
    const auto [place, isNew] = known.emplace(std::pair(status.st_dev, status.st_ino), static_cast<int>(nodes.size()));
    const int number = place->second;
    if (!isNew)
        return number; // another name of one file
    nodes.push_back({S_ISDIR(status.st_mode), S_ISREG(status.st_mode) ? contentOfFile(path) : "", {}});
    if (S_ISDIR(status.st_mode))
        for (const auto& entry : fs::directory_iterator(path)) {
            const int inner = add(entry.path());
            nodes[static_cast<std::size_t>(number)].names[entry.path().filename().string()] = inner;
        }
    return number;
}

std::optional<std::pair<int, std::string>> Recorded::placeOf(const std::string& path) const
{
    if (path.rfind(root + "/", 0) != 0)
        return std::nullopt;
    int folder = 0;
    const auto inside = fs::path(path.substr(root.size() + 1));
    for (const auto& part : inside.parent_path()) {
        const auto& names = namesNow[static_cast<std::size_t>(folder)];
        const auto found = names.find(part.string());
        if (found == names.end())
            return std::nullopt;
        folder = found->second;
    }
    return std::pair(folder, inside.filename().string());
}

int Recorded::nodeAt(const std::string& path) const
{
    if (path == root)
        return 0;
    const auto place = placeOf(path);
    if (!place)
        return none;
    const auto& names = namesNow[static_cast<std::size_t>(place->first)];
    const auto found = names.find(place->second);
    return found == names.end() ? none : found->second;
}

std::string Recorded::nameOf(int folder) const
{
    for (const auto& names : namesNow)
        for (const auto& [name, node] : names)
            if (node == folder)
                return name.rfind(".couplet-", 0) == 0 ? ".tmp" : name;
    return "outermost";
}

// For the program it has happened at once.
void Recorded::happen(Event event)
{
    const auto names = [&](int folder) -> Names& { return namesNow[static_cast<std::size_t>(folder)]; };
    switch (event.kind) {
    case Event::Kind::enter:
        names(event.folder)[event.name] = event.node;
        break;
    case Event::Kind::leave:
        names(event.folder).erase(event.name);
        break;
    case Event::Kind::move:
        names(event.folder).erase(event.name);
        names(event.to)[event.newName] = event.node;
        break;
    case Event::Kind::write:
    case Event::Kind::cut: {
        auto& size = sizeNow[static_cast<std::size_t>(event.node)];
        size = event.kind == Event::Kind::cut ? event.at : std::max(size, event.at + event.bytes.size());
        break;
    }
    case Event::Kind::sync:
        break;
    }
    all.push_back(std::move(event));
}

void Recorded::opened(const FileCall& call)
{
    int node = nodeAt(call.path);
    if (node == none && (call.flags & O_CREAT) != 0) {
        const auto place = placeOf(call.path);
        if (!place)
            return;
        node = static_cast<int>(nodes.size());
        nodes.emplace_back();
        namesNow.emplace_back();
        sizeNow.push_back(0);
        happen({Event::Kind::enter, node, place->first, none, place->second, "", "", 0});
    }
    if (node == none)
        return;
    if ((call.flags & O_TRUNC) != 0 && sizeNow[static_cast<std::size_t>(node)] > 0)
        happen({Event::Kind::cut, node, none, none, "", "", "", 0});
    open[static_cast<int>(call.result)] = {node, (call.flags & O_APPEND) != 0, 0};
}

void Recorded::wrote(const FileCall& call)
{
    const auto file = open.find(call.file);
    if (file == open.end())
        return;
    auto& [node, appends, at] = file->second;
    const auto count = static_cast<std::size_t>(call.result);
    const auto from =
        call.at ? static_cast<std::size_t>(*call.at) : (appends ? sizeNow[static_cast<std::size_t>(node)] : at);
    if (!call.at)
        at = from + count;
    happen({Event::Kind::write, node, none, none, "", "", call.bytes.substr(0, count), from});
}

void Recorded::hear(const FileCall& call)
{
    if (call.result < 0)
        return;
    const auto place = placeOf(call.path), target = placeOf(call.other);
    const auto file = open.find(call.file);
    switch (call.kind) {
    case FileCall::Kind::open:
        return opened(call);
    case FileCall::Kind::write:
        return wrote(call);
    case FileCall::Kind::close:
        open.erase(call.file);
        return;
    case FileCall::Kind::cut:
        if (file != open.end())
            happen({Event::Kind::cut, file->second.node, none, none, "", "", "", static_cast<std::size_t>(*call.at)});
        return;
    case FileCall::Kind::sync: {
        if (file == open.end())
            return;
        const int node = file->second.node;
        const bool isFolder = nodes[static_cast<std::size_t>(node)].isFolder;
        allSyncs.push_back({all.size(), isFolder ? "folder " + nameOf(node) : "file"});
        return happen({Event::Kind::sync, node, none, none, "", "", "", 0});
    }
    case FileCall::Kind::rename:
        if (place && target)
            happen({Event::Kind::move, nodeAt(call.path), place->first, target->first, place->second, target->second,
                    "", 0});
        else if (place || target)
            throw std::runtime_error("a file left what is watched, or came into it");
        return;
    case FileCall::Kind::link:
        if (target)
            happen({Event::Kind::enter, nodeAt(call.path), target->first, none, target->second, "", "", 0});
        return;
    case FileCall::Kind::unlink:
    case FileCall::Kind::removeFolder:
        if (place)
            happen({Event::Kind::leave, nodeAt(call.path), place->first, none, place->second, "", "", 0});
        return;
    case FileCall::Kind::makeFolder:
        if (!place)
            return;
        nodes.push_back({true, "", {}});
        namesNow.emplace_back();
        sizeNow.push_back(0);
        return happen(
            {Event::Kind::enter, static_cast<int>(nodes.size()) - 1, place->first, none, place->second, "", "", 0});
    }
}

} // namespace couplet::tests
