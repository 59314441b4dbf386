// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/FileCall.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <random>
#include <set>
#include <string>
#include <vector>

// Purpose: what a folder may hold after the power was cut while a program changed it: its calls are recorded, and then
//          played again with any of them left out that no sync had made last.
// Model:   a file's bytes last once that file was synced, a name once the folder it stands in was, and each change that
//          was not synced may be there or not by itself, whatever came before or after it. A rename is one change, kept
//          or lost whole; into another folder it lasts once both are synced. Of bytes that were written and not synced
//          there may be all, none, the first half, or as many zeros.
// Source:  fsync of POSIX.1-2017, which promises nothing without it; Linux's fsync(2): a new file's name needs a sync of
//          its folder. That real file systems do reorder and cut so, and that a rename is one change: Pillai et al., All
//          File Systems Are Not Created Equal, OSDI 2014; from memory.
namespace couplet::tests {

class Recorded
{
public:
    // The folder as it is, all of it lasting.
    explicit Recorded(const std::filesystem::path& folder);

    void hear(const FileCall&);           // tells of a call that has returned
    void beginProcess() { open.clear(); } // another program: it has no files open

    struct Sync
    {
        std::size_t event;
        std::string of; // "file", "folder library"
    };
    const std::vector<Sync>& syncs() const { return allSyncs; }
    std::size_t events() const { return all.size(); }

private:
    friend class Cuts;

    static constexpr int none = -1;
    struct Node
    {
        bool isFolder = false;
        std::string bytes;                // lasting from the beginning
        std::map<std::string, int> names; // likewise
    };
    struct Event
    {
        enum class Kind { enter, leave, move, write, cut, sync } kind = Kind::sync;
        int node = none;              // what is named, written or synced
        int folder = none, to = none; // where the names stand
        std::string name, newName, bytes;
        std::size_t at = 0; // of a write; the size of a cut
    };
    struct Open
    {
        int node = none;
        bool appends = false;
        std::size_t at = 0;
    };
    using Names = std::map<std::string, int>;

    int add(const std::filesystem::path&);
    // The folder and name that a path has by now; absent outside of what is watched.
    std::optional<std::pair<int, std::string>> placeOf(const std::string& path) const;
    int nodeAt(const std::string& path) const;
    std::string nameOf(int folder) const;
    void happen(Event);
    void opened(const FileCall&);
    void wrote(const FileCall&);

    std::string root;
    std::vector<Node> nodes; // [0] is the folder itself
    std::vector<Event> all;
    std::vector<Sync> allSyncs;
    // As a program sees them now.
    std::vector<Names> namesNow;
    std::vector<std::size_t> sizeNow;
    std::map<int, Open> open;
    std::map<std::pair<std::uint64_t, std::uint64_t>, int> known; // by device and inode
};

// All that may be there after a cut, each image once.
class Cuts
{
public:
    Cuts(const Recorded& r, std::size_t mostOfOneCut) : record(r), most(mostOfOneCut) {}

    std::optional<std::size_t> ignoredSync; // this event syncs nothing
    std::size_t from = 0;                   // cuts before this event are passed over

    // Called with each image written to the folder `into`, which is emptied before; `complete`: all calls had returned.
    // It says whether to go on.
    using Look = std::function<bool(const std::filesystem::path& into, bool complete)>;
    void each(const std::filesystem::path& into, const Look&);

    std::size_t cuts = 0;   // moments at which the power was cut
    std::size_t ways = 0;   // in which what was not synced may be there
    std::size_t images = 0; // of those, different from one another

private:
    using Choice = std::map<std::size_t, int>; // of the events that may be lost: 0 lost, 1 kept, 2 half, 3 zeros
    struct Image
    {
        std::vector<Recorded::Names> names;
        std::vector<std::string> bytes;
        std::vector<std::string> marks; // what was done to each file's bytes
    };

    std::vector<std::size_t> unsyncedAt(std::size_t end) const;
    std::vector<Choice> choicesOf(const std::vector<std::size_t>& unsynced);
    bool show(std::size_t end, const Choice&, const std::filesystem::path& into, const Look&);
    Image imageOf(std::size_t end, const Choice&, bool withBytes) const;
    void signature(const Image&, int folder, const std::string& path, std::string& text) const;
    void write(const Image&, int folder, const std::filesystem::path& into,
               std::map<int, std::filesystem::path>& written) const;

    const Recorded& record;
    std::size_t most;
    std::set<std::string> seen;
    std::mt19937 random{1}; // NOLINT(cert-msc32-c,cert-msc51-cpp): the same every time
};

} // namespace couplet::tests
