// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Lists.h"

#include <functional>
#include <string>
#include <vector>

// Purpose: a list of things to do, each with its words.
// Thread:  message.
namespace couplet {

class FitMenu
{
public:
    void add(const std::string& words, std::function<void()> action, bool ticked = false);
    void addSection(const std::string& words);
    void addUnder(const std::string& words, FitMenu); // opens beside it
    void open(juce::Component& beside) const;

    std::vector<std::string> words() const;
    bool take(const std::string& words) const; // as a click on it; false: it is not there

private:
    struct Entry
    {
        std::string words;
        std::function<void()> action;
    };
    static constexpr int longestWords = 60;
    juce::PopupMenu listFrom(std::vector<Entry>& all) const;

    struct Item
    {
        Entry entry;
        bool ticked = false, section = false;
        std::vector<FitMenu> under; // none or one
    };
    std::vector<Item> items;
};

} // namespace couplet
