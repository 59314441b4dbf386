// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/CouplerSearch.h"

#include "Library/ItemSearch.h"

#include <numeric>

namespace couplet {

std::vector<std::size_t> couplersFound(const std::string& query, const LibraryView& view)
{
    if (query.empty()) {
        std::vector<std::size_t> all(view.rows.size());
        std::iota(all.begin(), all.end(), std::size_t{0});
        return all;
    }
    std::vector<Item> items;
    items.reserve(view.rows.size());
    for (const auto& row : view.rows) {
        // What is searched in, and no more: histories and tables are long.
        const Coupler& whole = *row.profile;
        Coupler coupler;
        coupler.name = whole.name;
        coupler.kind = whole.kind;
        coupler.serial = whole.serial;
        coupler.microphone = whole.microphone;
        coupler.input = whole.input;
        coupler.gainNote = whole.gainNote;
        coupler.slot = row.slot; // of the session, as the rows show it
        items.emplace_back(std::move(coupler));
    }
    return search(query, items);
}

} // namespace couplet
