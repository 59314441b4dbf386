// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/ItemSearch.h"

#include "Library/TextFold.h"

#include <algorithm>
#include <string>

namespace couplet {
namespace {

// Folded, with one blank between words and none at the ends. What is neither letter nor digit in ASCII parts words;
// other scripts' characters are kept as they are.
std::u32string wordsOf(std::string_view text)
{
    std::u32string words;
    for (const char32_t c : folded(text)) {
        const bool isWord = c >= 0x80 || (c >= U'a' && c <= U'z') || (c >= U'0' && c <= U'9');
        if (isWord && c != 0xA0)
            words += c;
        else if (!words.empty() && words.back() != U' ')
            words += U' ';
    }
    if (!words.empty() && words.back() == U' ')
        words.pop_back();
    return words;
}

bool isNumber(const std::u32string& word)
{
    return std::all_of(word.begin(), word.end(), [](char32_t c) { return c >= U'0' && c <= U'9'; });
}

struct Term
{
    std::u32string text;
    bool wholeOnly = false; // "slot 3" is not slot 31
};

std::vector<Term> termsOf(const std::u32string& query)
{
    std::vector<Term> terms;
    for (std::size_t at = 0; at < query.size();) {
        const auto end = std::min(query.find(U' ', at), query.size());
        const auto word = query.substr(at, end - at);
        if (!terms.empty() && terms.back().text == U"slot" && isNumber(word))
            terms.back() = {U"slot " + word, true};
        else
            terms.push_back({word});
        at = end + 1;
    }
    return terms;
}

struct Field
{
    std::u32string text;
    int weight; // below 10, so that how it matches counts first
};

void add(std::vector<Field>& fields, const std::string& text, int weight)
{
    if (!text.empty())
        fields.push_back({wordsOf(text), weight});
}

std::vector<Field> fieldsToSearch(const Item& item)
{
    std::vector<Field> fields;
    add(fields, nameOf(item), 9);
    add(fields, kindOf(item), 1);
    if (const auto* coupler = std::get_if<Coupler>(&item)) {
        add(fields, coupler->slot != 0 ? "slot " + std::to_string(coupler->slot) : "", 8);
        add(fields, coupler->kind, 3);
        add(fields, coupler->serial, 4);
        add(fields, coupler->microphone, 4);
        add(fields, coupler->input, 3);
        add(fields, coupler->gainNote, 2);
    }
    if (const auto* calibrator = std::get_if<Calibrator>(&item))
        add(fields, calibrator->serial, 4);
    if (const auto* earphone = std::get_if<Earphone>(&item))
        add(fields, earphone->note, 2);
    return fields;
}

// 3: a whole word, 2: a word's beginning, 1: a part, 0: not there.
int matchOf(const Term& term, const std::u32string& text)
{
    int best = 0;
    for (auto at = text.find(term.text); at != std::u32string::npos; at = text.find(term.text, at + 1)) {
        const auto end = at + term.text.size();
        const bool begins = at == 0 || text[at - 1] == U' ', ends = end == text.size() || text[end] == U' ';
        best = std::max(best, begins && ends ? 3 : begins ? 2 : 1);
    }
    return term.wholeOnly && best < 3 ? 0 : best;
}

// 0: a term is not there.
int scoreOf(const std::vector<Term>& terms, const std::u32string& query, const Item& item)
{
    constexpr int wholeName = 1000, startOfName = 100;
    const auto fields = fieldsToSearch(item);
    const auto& name = fields.front().text;
    int score = name == query ? wholeName : name.starts_with(query) ? startOfName : 0;
    for (const auto& term : terms) {
        int best = 0;
        for (const auto& field : fields)
            if (const int match = matchOf(term, field.text); match > 0)
                best = std::max(best, 10 * match + field.weight);
        if (best == 0)
            return 0;
        score += best;
    }
    return score;
}

} // namespace

std::vector<std::size_t> search(std::string_view query, const std::vector<Item>& items)
{
    const auto words = wordsOf(query);
    const auto terms = termsOf(words);
    std::vector<std::pair<int, std::size_t>> found;
    for (std::size_t i = 0; i < items.size(); ++i)
        if (const int score = terms.empty() ? 1 : scoreOf(terms, words, items[i]); score > 0)
            found.emplace_back(score, i);
    std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<std::size_t> places;
    places.reserve(found.size());
    for (const auto& [score, place] : found)
        places.push_back(place);
    return places;
}

} // namespace couplet
