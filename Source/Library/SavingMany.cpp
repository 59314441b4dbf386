// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/SavingMany.h"

#include "Library/FileName.h"
#include "Library/FolderEdit.h"
#include "Library/ItemJson.h"
#include "Library/Names.h"
#include "Library/NewFiles.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <utility>

namespace couplet {
namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

constexpr std::size_t filesAtOnce = 256;
constexpr std::chrono::milliseconds shortestHold{1500};

// While the lock is held, from one look at the folder.
class Session
{
public:
    Session(const fs::path& r, TakenSlot t, SavedMany& d)
        : root(r), takenSlot(t), done(d), content(scanFolder(r)), files(r)
    {
        for (const auto& entry : content.entries)
            if (const auto* coupler = std::get_if<Coupler>(&entry.item); coupler && coupler->slot != 0)
                slots.emplace(coupler->slot, coupler->name);
    }

    std::optional<Fault> blind() const
    {
        const auto* fault = content.findUnreadable(root); // what is there, and in which slot, is not known
        return fault ? std::optional(fault->fault) : std::nullopt;
    }

    Outcome<Done> save(const Item& given)
    {
        const bool isThere = !content.alike(kindOf(given), nameOf(given)).empty();
        auto kept = isThere ? Outcome<Item>(given) : withKeptName(given, titleOf(given));
        if (!kept)
            return kept.fault();
        auto& item = *kept;
        if (const auto good = canBeKept(withoutReferences(item)); !good)
            return good.fault();
        if (auto* coupler = std::get_if<Coupler>(&item); coupler && coupler->slot != 0)
            if (auto taken = takeSlot(*coupler); !taken)
                return taken;
        const auto name = fileNameOf(item);
        std::error_code error;
        const bool isNew = !isThere && !fs::exists(fs::symlink_status(root / name, error));
        if (isNew) {
            const auto text = textForFolder(item, {}, root);
            if (!text)
                return text.fault();
            if (auto written = files.write(name, *text); !written)
                return written;
            return files.size() < filesAtOnce ? Outcome<Done>(Done{}) : put();
        }
        if (auto before = put(); !before)
            return before;
        if (auto saved = saveInto(root, content, item); !saved)
            return saved;
        ++done.saved;
        return Done{};
    }

    Outcome<Done> put()
    {
        const auto count = files.size();
        auto there = files.put();
        if (there)
            done.saved += count;
        return there;
    }

private:
    Outcome<Done> takeSlot(Coupler& coupler)
    {
        const auto [holder, isFree] = slots.emplace(coupler.slot, coupler.name);
        if (isFree || lookTheSame(holder->second, coupler.name))
            return Done{};
        if (takenSlot == TakenSlot::isRefused)
            return Fault{
                fmt::format("slot {} is taken by coupler '{}'; choose another slot", coupler.slot, holder->second)};
        coupler.slot = 0;
        ++done.withoutSlot;
        return Done{};
    }

    const fs::path& root;
    TakenSlot takenSlot;
    SavedMany& done;
    FolderContent content;
    std::map<int, std::string> slots;
    NewFiles files;
};

using Names = std::map<std::pair<std::size_t, std::string>, std::size_t>;

// Of names that look the same the second after all the first, and so on: in one session each name stands once.
std::vector<std::vector<const Item*>> rounds(const std::vector<Item>& items)
{
    std::vector<std::vector<const Item*>> all;
    Names seen;
    for (const auto& item : items) {
        const auto round = seen[{item.index(), lookOf(nameOf(item))}]++;
        if (round == all.size())
            all.emplace_back();
        all[round].push_back(&item);
    }
    return all;
}

// From `next` on, as long as the lock may be held.
Outcome<Done> saveSome(const Folder& folder, const std::vector<const Item*>& items, std::size_t& next, TakenSlot slot,
                       SavedMany& done, const std::function<void(std::size_t)>& reached)
{
    const auto notSaved = [&](const Item& item, const std::string& why) {
        return Fault{why.find(" was not saved: ") != std::string::npos
                         ? why
                         : fmt::format("{} was not saved: {}", titleOf(item), why)};
    };
    const auto lock = lockedFolder(folder.path());
    if (!lock)
        return notSaved(*items[next], lock.fault().sentence);
    const auto start = Clock::now();
    Session session(folder.path(), slot, done);
    const auto hold = std::max<Clock::duration>(shortestHold, 2 * (Clock::now() - start));
    if (const auto blind = session.blind())
        return notSaved(*items[next], blind->sentence);
    const auto first = next;
    for (; next < items.size() && Clock::now() - start < hold; ++next) {
        if (const auto saved = session.save(*items[next]); !saved)
            return notSaved(*items[next], saved.fault().sentence);
        if (reached)
            reached(done.saved);
    }
    const auto there = session.put();
    if (reached)
        reached(done.saved);
    return there ? there : notSaved(*items[std::max(first, next - 1)], there.fault().sentence);
}

} // namespace

SavedMany saveMany(const Folder& folder, const std::vector<Item>& items, TakenSlot slot,
                   const std::function<void(std::size_t)>& reached)
{
    SavedMany done;
    for (const auto& round : rounds(items))
        for (std::size_t next = 0; next < round.size();)
            if (const auto saved = saveSome(folder, round, next, slot, done, reached); !saved) {
                done.fault = saved.fault();
                return done;
            }
    return done;
}

} // namespace couplet
