// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/CouplerSearch.h"

#include <juce_core/juce_core.h>

namespace couplet {

std::vector<std::size_t> couplersFound(const std::string& query, const LibraryView& view)
{
    const auto words = juce::StringArray::fromTokens(juce::String::fromUTF8(query.c_str()), true);
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < view.rows.size(); ++i) {
        const auto& c = *view.rows[i].profile;
        const auto text = c.name + "\n" + c.kind + "\n" + c.serial + "\n" + c.microphone + "\n" + c.input;
        const auto all = juce::String::fromUTF8(text.c_str());
        bool fits = true;
        for (const auto& word : words)
            fits = fits && all.containsIgnoreCase(word);
        if (fits)
            found.push_back(i);
    }
    return found;
}

} // namespace couplet
