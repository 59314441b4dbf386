// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitMenu.h"

#include <utility>

namespace couplet {
namespace {

juce::String shown(const std::string& words, int longest)
{
    const auto whole = juce::String::fromUTF8(words.c_str());
    if (whole.length() <= longest)
        return whole;
    return whole.substring(0, longest / 2) + juce::String::fromUTF8("\u2026") + whole.getLastCharacters(longest / 2);
}

} // namespace

void FitMenu::add(const std::string& words, std::function<void()> action, bool ticked)
{
    items.push_back({{words, std::move(action)}, ticked, false, {}});
}

void FitMenu::addSection(const std::string& words)
{
    items.push_back({{words, {}}, false, true, {}});
}

void FitMenu::addUnder(const std::string& words, FitMenu menu)
{
    items.push_back({{words, {}}, false, false, {std::move(menu)}});
}

// Every action gets the number under which the list tells of it.
juce::PopupMenu FitMenu::listFrom(std::vector<Entry>& all) const
{
    juce::PopupMenu list;
    for (const auto& item : items) {
        const auto words = shown(item.entry.words, longestWords);
        if (item.section) {
            list.addSectionHeader(words);
        }
        else if (!item.under.empty()) {
            list.addSubMenu(words, item.under.front().listFrom(all));
        }
        else {
            all.push_back(item.entry);
            list.addItem(static_cast<int>(all.size()), words, true, item.ticked);
        }
    }
    return list;
}

void FitMenu::open(juce::Component& beside) const
{
    std::vector<Entry> all;
    const auto list = listFrom(all);
    openList(list, beside, [all](int id) {
        if (id <= static_cast<int>(all.size()))
            all[static_cast<std::size_t>(id - 1)].action();
    });
}

std::vector<std::string> FitMenu::words() const
{
    std::vector<Entry> all;
    listFrom(all);
    std::vector<std::string> texts;
    texts.reserve(all.size());
    for (const auto& entry : all)
        texts.push_back(entry.words);
    return texts;
}

bool FitMenu::take(const std::string& words) const
{
    std::vector<Entry> all;
    listFrom(all);
    for (const auto& entry : all)
        if (entry.words == words) {
            entry.action();
            return true;
        }
    return false;
}

} // namespace couplet
