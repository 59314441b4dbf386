// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FolderActions.h"

#include "Library/Bundle.h"
#include "Library/Names.h"
#include "Library/Presets.h"
#include "Library/SavingMany.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

const Item* itemLike(const Item& item, const Folder::Listing& listing)
{
    return itemNamed(listing.items, kindOf(item), nameOf(item));
}

bool holdsCoupler(const Folder::Listing& listing, const std::string& name)
{
    Coupler wanted;
    wanted.name = name;
    return itemLike(Item(wanted), listing) != nullptr;
}

// "Bare microphone", "Bare microphone 2", ...
std::string freeName(const Folder& folder, const std::string& wanted)
{
    const auto listing = folder.list();
    auto name = wanted;
    for (int n = 2; holdsCoupler(listing, name); ++n)
        name = fmt::format("{} {}", wanted, n);
    return name;
}

// As Folder::remove finds exactly this coupler, whatever else is called likewise.
Outcome<std::string> addressOf(const Folder::Listing& listing, const std::string& name)
{
    const auto named = [&](const std::string& wanted) {
        return std::count_if(listing.items.begin(), listing.items.end(),
                             [&](const Item& item) { return nameOf(item) == wanted; });
    };
    if (named(name) <= 1)
        return name;
    if (named("coupler " + name) == 0)
        return "coupler " + name;
    return Fault{fmt::format("{} cannot be told from an item of another kind; rename that one first", inQuotes(name))};
}

std::string newestOf(const Coupler& coupler)
{
    if (coupler.references.empty())
        return "no reference";
    return fmt::format("{} reference{}, the newest of {}", coupler.references.size(),
                       coupler.references.size() == 1 ? "" : "s", coupler.references.back().takenAt.substr(0, 10));
}

std::string differenceOf(const Item& inFile, const Item& inLibrary)
{
    const auto title = fmt::format("{} {}", kindOf(inFile), inQuotes(nameOf(inFile)));
    const auto* ours = std::get_if<Coupler>(&inLibrary);
    const auto* theirs = std::get_if<Coupler>(&inFile);
    if (ours == nullptr || theirs == nullptr)
        return title;
    return fmt::format("{} (the library's has {}; the file's {})", title, newestOf(*ours), newestOf(*theirs));
}

} // namespace

std::vector<std::string> presetNames()
{
    std::vector<std::string> names;
    for (const Item& item : presets())
        if (std::holds_alternative<Coupler>(item))
            names.push_back(nameOf(item));
    return names;
}

Outcome<std::string> madeIn(const Folder& folder, const std::string& name)
{
    for (const Item& item : presets()) {
        const auto* preset = std::get_if<Coupler>(&item);
        if (preset == nullptr || preset->name != name)
            continue;
        Coupler made = *preset;
        made.name = freeName(folder, name);
        const auto saved = folder.save(made);
        return saved ? Outcome<std::string>(made.name) : Outcome<std::string>(saved.fault());
    }
    return Fault{fmt::format("there is no kind {}; choose one of the list", inQuotes(name))};
}

Outcome<std::string> copiedIn(const Folder& folder, const std::string& name)
{
    const auto address = addressOf(folder.list(), name);
    return address ? folder.copy(*address) : address;
}

Outcome<Coupler> renamedIn(const Folder& folder, const std::string& name, const std::string& to)
{
    const auto address = addressOf(folder.list(), name);
    const auto renamed = address ? folder.rename(*address, to) : Outcome<Done>(address.fault());
    return renamed ? folder.coupler(to) : Outcome<Coupler>(renamed.fault());
}

Outcome<std::string> removedFrom(const Folder& folder, const std::string& name)
{
    const auto address = addressOf(folder.list(), name);
    const auto removed = address ? folder.remove(*address) : Outcome<Done>(address.fault());
    return removed ? address : Outcome<std::string>(removed.fault());
}

Outcome<Versions> versionsIn(const Folder& folder, const std::string& name)
{
    const auto address = addressOf(folder.list(), name);
    return address ? versionsOf(folder, *address) : Outcome<Versions>(address.fault());
}

Outcome<VersionPutBack> versionPutBackIn(const Folder& folder, const std::string& name, int number)
{
    const auto address = addressOf(folder.list(), name);
    return address ? putBackVersion(folder, *address, number) : Outcome<VersionPutBack>(address.fault());
}

Outcome<ImportPlan> importPlanOf(const Folder& folder, const std::vector<std::filesystem::path>& files)
{
    ImportPlan plan;
    const auto listing = folder.list();
    const ItemsByName names(listing.items);
    plan.question.file = files.size() == 1 ? files.front().filename().string() : fmt::format("{} files", files.size());
    for (const auto& file : files) {
        const auto items = readItems(file);
        if (!items)
            return items.fault();
        for (const auto& item : *items) {
            const Item* there = names.find(item);
            if (there != nullptr && *there == item) {
                ++plan.question.same;
                continue;
            }
            if (there == nullptr)
                ++plan.question.fresh;
            else
                plan.question.differing.push_back(differenceOf(item, *there));
            plan.items.push_back(item);
        }
    }
    return plan;
}

Outcome<ImportReport> importedInto(const Folder& folder, const std::vector<Item>& items)
{
    ImportReport report;
    const auto isCoupler = [](const Item& item) { return std::holds_alternative<Coupler>(item); };
    if (const auto first = std::find_if(items.begin(), items.end(), isCoupler); first != items.end())
        report.firstCoupler = nameOf(*first);
    // Slots are this library's own: one that is taken is not fought for.
    const auto done = saveMany(folder, items, TakenSlot::isLeftOut);
    if (done.fault)
        return Fault{fmt::format("{} ({} of {} were saved before)", done.fault->sentence, done.saved, items.size())};
    report.sentence = done.saved == 0
                          ? "everything in it was there already, just so"
                          : fmt::format("{} item{} imported", done.saved, done.saved == 1 ? " was" : "s were");
    if (done.withoutSlot > 0)
        report.sentence += fmt::format("; {} without a slot, for another coupler has it", done.withoutSlot);
    return report;
}

Outcome<Done> exportedFrom(const Folder& folder, const std::string& name, const std::filesystem::path& file)
{
    std::error_code error;
    if (std::filesystem::exists(std::filesystem::symlink_status(file, error)))
        return Fault{fmt::format("{}: it is there already and is left as it is; give another name", file.string())};
    Outcome<std::string> text(std::string{});
    if (name.empty()) {
        const auto listing = folder.list();
        if (listing.items.empty())
            return Fault{"the library has no items to export"};
        text = bundleTextOf(listing.items);
    }
    else if (const auto coupler = folder.coupler(name))
        text = bundleTextOf(withWhatItNeeds(folder.list(), *coupler));
    else
        text = coupler.fault();
    if (!text)
        return text.fault();
    if (const auto written = replaceFile(file, *text, false); !written)
        return Fault{fmt::format("{} was not written: {}", file.string(), written.fault().sentence)};
    return Done{};
}

} // namespace couplet
