// SPDX-License-Identifier: GPL-3.0-or-later
//
// The half of PowerCut that plays what was heard again.
#include "Library/PowerCut.h"
#include "Library/Scratch.h"

#include <algorithm>

namespace couplet::tests {

namespace fs = std::filesystem;

namespace {

enum Left : int { lost, kept, half, zeros };

} // namespace

// What happened before the event `end` and no sync before it has made last.
std::vector<std::size_t> Cuts::unsyncedAt(std::size_t end) const
{
    using Kind = Recorded::Event::Kind;
    std::vector<std::size_t> unsynced;
    for (std::size_t i = 0; i < end; ++i) {
        const auto& event = record.all[i];
        if (event.kind == Kind::sync)
            continue;
        const bool isOfBytes = event.kind == Kind::write || event.kind == Kind::cut;
        const auto isSynced = [&](int node) {
            for (std::size_t j = i + 1; j < end; ++j)
                if (record.all[j].kind == Kind::sync && record.all[j].node == node && ignoredSync != j)
                    return true;
            return false;
        };
        const bool lasts =
            isOfBytes ? isSynced(event.node) : isSynced(event.folder) && (event.to < 0 || isSynced(event.to));
        if (!lasts)
            unsynced.push_back(i);
    }
    return unsynced;
}

// All of them where there are few, else some: all or none, all but one, one alone, and others at random.
std::vector<Cuts::Choice> Cuts::choicesOf(const std::vector<std::size_t>& unsynced)
{
    const auto fatesOf = [&](std::size_t event) {
        return record.all[event].kind == Recorded::Event::Kind::write ? 4 : 2;
    };
    std::size_t count = 1;
    for (const auto event : unsynced)
        count = std::min(count * static_cast<std::size_t>(fatesOf(event)), most + 1);
    std::vector<Choice> choices;
    if (count <= most) {
        choices.emplace_back();
        for (const auto event : unsynced) {
            std::vector<Choice> more;
            for (const auto& choice : choices)
                for (int fate = 0; fate < fatesOf(event); ++fate) {
                    more.push_back(choice);
                    more.back()[event] = fate;
                }
            choices = std::move(more);
        }
        return choices;
    }
    const auto allAre = [&](int fate) {
        Choice choice;
        for (const auto event : unsynced)
            choice[event] = fate;
        return choice;
    };
    choices = {allAre(lost), allAre(kept)};
    for (const auto event : unsynced)
        for (int fate = 0; fate < fatesOf(event); ++fate)
            for (const int others : {lost, kept}) {
                choices.push_back(allAre(others));
                choices.back()[event] = fate;
            }
    while (choices.size() < most) {
        choices.emplace_back();
        for (const auto event : unsynced)
            choices.back()[event] = static_cast<int>(random() % static_cast<unsigned>(fatesOf(event)));
    }
    return choices;
}

Cuts::Image Cuts::imageOf(std::size_t end, const Choice& choice, bool withBytes) const
{
    using Kind = Recorded::Event::Kind;
    Image image;
    for (const auto& node : record.nodes) {
        image.names.push_back(node.names);
        image.bytes.push_back(withBytes ? node.bytes : "");
        image.marks.emplace_back();
    }
    const auto isNamed = [&](const auto& e) {
        const auto& names = image.names[static_cast<std::size_t>(e.folder)];
        const auto found = names.find(e.name);
        return found != names.end() && found->second == e.node;
    };
    for (std::size_t i = 0; i < end; ++i) {
        const auto& e = record.all[i];
        const auto chosen = choice.find(i);
        const int fate = chosen == choice.end() ? static_cast<int>(kept) : chosen->second;
        if (fate == lost || e.kind == Kind::sync)
            continue;
        if (e.kind == Kind::enter)
            image.names[static_cast<std::size_t>(e.folder)][e.name] = e.node;
        if ((e.kind == Kind::leave || e.kind == Kind::move) && isNamed(e))
            image.names[static_cast<std::size_t>(e.folder)].erase(e.name);
        if (e.kind == Kind::move)
            image.names[static_cast<std::size_t>(e.to)][e.newName] = e.node;
        if (e.kind != Kind::write && e.kind != Kind::cut)
            continue;
        image.marks[static_cast<std::size_t>(e.node)] += std::to_string(i) + "=" + std::to_string(fate) + ",";
        auto& bytes = image.bytes[static_cast<std::size_t>(e.node)];
        if (!withBytes)
            continue;
        if (e.kind == Kind::cut) {
            bytes.resize(e.at);
            continue;
        }
        const auto count = fate == half ? e.bytes.size() / 2 : e.bytes.size();
        bytes.resize(std::max(bytes.size(), e.at + count), '\0');
        bytes.replace(e.at, count, fate == zeros ? std::string(count, '\0') : e.bytes.substr(0, count));
    }
    return image;
}

// What tells one image from another: only what has a name is there.
void Cuts::signature(const Image& image, int folder, const std::string& path, std::string& text) const
{
    for (const auto& [name, node] : image.names[static_cast<std::size_t>(folder)]) {
        text +=
            path + "/" + name + ":" + std::to_string(node) + ":" + image.marks[static_cast<std::size_t>(node)] + "\n";
        if (record.nodes[static_cast<std::size_t>(node)].isFolder)
            signature(image, node, path + "/" + name, text);
    }
}

void Cuts::write(const Image& image, int folder, const fs::path& into, std::map<int, fs::path>& written) const
{
    for (const auto& [name, node] : image.names[static_cast<std::size_t>(folder)]) {
        const auto path = into / name;
        if (record.nodes[static_cast<std::size_t>(node)].isFolder) {
            fs::create_directory(path);
            write(image, node, path, written);
        }
        else if (const auto [first, isNew] = written.emplace(node, path); isNew)
            writeContent(path, image.bytes[static_cast<std::size_t>(node)]);
        else
            fs::create_hard_link(first->second, path);
    }
}

bool Cuts::show(std::size_t end, const Choice& choice, const fs::path& into, const Look& look)
{
    ++ways;
    const bool complete = end == record.all.size();
    std::string mark = complete ? "complete\n" : "";
    signature(imageOf(end, choice, false), 0, "", mark);
    if (!seen.insert(mark).second)
        return true;
    ++images;
    for (const auto& entry : fs::directory_iterator(into))
        fs::remove_all(entry.path());
    std::map<int, fs::path> written;
    write(imageOf(end, choice, true), 0, into, written);
    return look(into, complete);
}

void Cuts::each(const fs::path& into, const Look& look)
{
    for (std::size_t end = from; end <= record.all.size(); ++end) {
        ++cuts;
        for (const auto& choice : choicesOf(unsyncedAt(end)))
            if (!show(end, choice, into, look))
                return;
    }
}

} // namespace couplet::tests
