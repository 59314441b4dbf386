// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitInsertions.h"

#include "Bench/FitEarphones.h"

namespace couplet {
namespace {

const char* noSuchInsertion = "that insertion is not there any more";

void takeWhole(FitEarphone& e, double level_dB)
{
    e.level_dB = level_dB;
    if (e.setAside == notReadYet)
        e.setAside.clear();
}

} // namespace

std::string addEarphoneLevel(FitInput& input, std::size_t earphone, double level_dB)
{
    if (earphone >= input.earphones.size())
        return noSuchEarphone;
    auto& e = input.earphones[earphone];
    if (e.insertions.empty()) {
        takeWhole(e, level_dB);
        return {};
    }
    e.insertions.push_back({level_dB, {}, {}, false});
    followInsertions(e);
    return {};
}

std::string changeEarphoneLevel(FitInput& input, std::size_t earphone, std::size_t insertion, double level_dB)
{
    if (earphone >= input.earphones.size())
        return noSuchEarphone;
    auto& e = input.earphones[earphone];
    if (e.insertions.empty()) {
        takeWhole(e, level_dB);
        return {};
    }
    if (insertion >= e.insertions.size())
        return noSuchInsertion;
    e.insertions[insertion].level_dB = level_dB;
    followInsertions(e);
    return {};
}

std::string setInsertionAside(FitInput& input, std::size_t earphone, std::size_t insertion, const std::string& reason)
{
    if (earphone >= input.earphones.size())
        return noSuchEarphone;
    auto& e = input.earphones[earphone];
    if (insertion >= e.insertions.size())
        return noSuchInsertion;
    e.insertions[insertion].setAside = reason;
    followInsertions(e);
    return {};
}

} // namespace couplet
