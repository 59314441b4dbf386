// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/NearNames.h"

#include "Library/TextFold.h"

#include <algorithm>

namespace couplet {
namespace {

// Optimal string alignment (Damerau 1964, restricted), three rows at a time.
std::size_t editDistance(const std::u32string& a, const std::u32string& b)
{
    std::vector<std::size_t> before, previous, current(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j)
        current[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        before = std::move(previous);
        previous = current;
        current[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t exchange = previous[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            current[j] = std::min({previous[j] + 1, current[j - 1] + 1, exchange});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                current[j] = std::min(current[j], before[j - 2] + 1);
        }
    }
    return current[b.size()];
}

} // namespace

std::vector<std::string> nearNames(const std::string& wanted, const std::vector<std::string>& names)
{
    constexpr std::size_t most = 3;
    const auto key = folded(wanted);
    const auto farthest = std::max<std::size_t>(1, key.size() / 3);
    std::vector<std::pair<std::size_t, std::string>> near;
    for (const auto& name : names) {
        const auto candidate = folded(name);
        const bool holdsIt = !key.empty() && candidate.find(key) != std::u32string::npos;
        const auto distance = editDistance(key, candidate);
        if (distance <= farthest || holdsIt)
            near.emplace_back(std::min(distance, farthest + 1), name);
    }
    std::sort(near.begin(), near.end());
    near.erase(std::unique(near.begin(), near.end()), near.end());
    std::vector<std::string> nearest;
    for (std::size_t i = 0; i < std::min(most, near.size()); ++i)
        nearest.push_back(near[i].second);
    return nearest;
}

} // namespace couplet
