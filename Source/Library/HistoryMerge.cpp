// SPDX-License-Identifier: GPL-3.0-or-later
//
// The half of HistoryFiles that knows references again.
#include "Library/HistoryFiles.h"
#include "Library/IsoTime.h"

#include <algorithm>
#include <functional>
#include <list>

namespace couplet {
namespace {

std::size_t keyOf(const Reference& reference)
{
    return std::hash<std::string>()(reference.takenAt) * 31 + std::hash<double>()(reference.offset_dB);
}

bool isLater(const Reference& reference, const Reference& other)
{
    return ageOf_s(other, reference.takenAt).value_or(0.0) > 0.0;
}

} // namespace

bool isSameReference(const Reference& a, const Reference& b)
{
    if (a.takenAt != b.takenAt || a.offset_dB != b.offset_dB)
        return false; // without a copy
    auto comparable = b;
    comparable.setAside = a.setAside;
    return a == comparable;
}

ReferenceIndex::ReferenceIndex(const std::vector<Reference>& references)
{
    all.reserve(references.size());
    for (const auto& reference : references)
        all.emplace(keyOf(reference), &reference);
}

const Reference* ReferenceIndex::find(const Reference& wanted) const
{
    const auto [begin, end] = all.equal_range(keyOf(wanted));
    const auto found =
        std::find_if(begin, end, [&](const auto& each) { return isSameReference(*each.second, wanted); });
    return found == end ? nullptr : found->second;
}

void keepHistory(Coupler& coupler, const Coupler& onDisk)
{
    const ReferenceIndex known(coupler.references);
    std::vector<const Reference*> missing;
    for (const auto& old : onDisk.references)
        if (known.find(old) == nullptr)
            missing.push_back(&old);
    if (missing.empty())
        return;
    std::list<Reference> all(std::make_move_iterator(coupler.references.begin()),
                             std::make_move_iterator(coupler.references.end()));
    // Before the first that is later. None before the one put in last is later than that one, nor than any after it.
    auto last = all.end();
    for (const auto* old : missing) {
        const bool isAfterLast = last != all.end() && !isLater(*last, *old) && ageOf_s(*last, old->takenAt);
        const auto place = std::find_if(isAfterLast ? last : all.begin(), all.end(),
                                        [&](const Reference& r) { return isLater(r, *old); });
        last = all.insert(place, *old);
    }
    coupler.references.assign(std::make_move_iterator(all.begin()), std::make_move_iterator(all.end()));
}

} // namespace couplet
