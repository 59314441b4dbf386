// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/LongHistory.h"

#include "Library/IsoTime.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet::tests {

namespace fs = std::filesystem;

Reference longReference(std::size_t number)
{
    const auto start = *instantFrom("2020-01-01T00:00:00Z");
    const auto hours = std::chrono::hours{static_cast<int>(number)};
    auto reference = referenceAt(textOf(std::chrono::floor<std::chrono::milliseconds>(start + hours)),
                                 121.97 + 0.01 * static_cast<double>(number % 7));
    reference.addends = {{"certified level", 114.02}, {"tone", -reference.tone_dBFS}};
    for (const auto* name : {"certificate", "seating", "repeatability", "drift since", "linearity", "pressure"})
        reference.budget.push_back({name, 0.05 + 1e-6 * static_cast<double>(number), 12.0, Shape::normal, "assumed"});
    reference.source = fmt::format("take {}.wav", number);
    reference.pressure = Kilopascals{101.3};
    return reference;
}

Coupler longCoupler(const std::string& name, std::size_t references)
{
    auto coupler = fullCoupler(name);
    coupler.references.clear();
    for (std::size_t i = 0; i < references; ++i)
        coupler.references.push_back(longReference(i));
    return coupler;
}

std::vector<fs::path> historyFilesIn(const fs::path& folder)
{
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(folder))
        if (entry.path().extension() == ".history")
            files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    return files;
}

fs::path ownFileIn(const fs::path& folder)
{
    return onlyFile(folder, ".json");
}

std::uintmax_t largestFileIn(const fs::path& folder)
{
    std::uintmax_t largest = 0;
    for (const auto& entry : fs::directory_iterator(folder))
        if (entry.is_regular_file())
            largest = std::max(largest, entry.file_size());
    return largest;
}

} // namespace couplet::tests
