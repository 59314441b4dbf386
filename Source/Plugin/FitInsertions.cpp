// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitInsertions.h"

#include "Bench/FitEarphones.h"

namespace couplet {
namespace {

const char* noSuchInsertion = "that insertion is not there any more";
const char* correctedWhole = "the level of an earphone goes with the level expected of it and their uncertainty: "
                             "correct the earphone whole";

} // namespace

std::string addEarphoneLevel(FitInput& input, std::size_t earphone, double level_dB)
{
    if (earphone >= input.earphones.size())
        return noSuchEarphone;
    auto& e = input.earphones[earphone];
    if (e.insertions.empty())
        return correctedWhole;
    e.insertions.push_back({level_dB, {}, {}, false});
    followInsertions(e);
    return {};
}

std::string changeEarphoneLevel(FitInput& input, std::size_t earphone, std::size_t insertion, double level_dB)
{
    if (earphone >= input.earphones.size())
        return noSuchEarphone;
    auto& e = input.earphones[earphone];
    if (e.insertions.empty())
        return correctedWhole;
    if (insertion >= e.insertions.size())
        return noSuchInsertion;
    e.insertions[insertion].level_dB = level_dB;
    followInsertions(e);
    return {};
}

void correctWhole(FitEarphone& now, const FitEarphone& next)
{
    const bool saysNothing = now.setAside == notReadYet || hasNoInsertionLeft(now);
    if (now.setAside == notReadYet)
        now.setAside.clear();
    if (saysNothing || next.level_dB != now.level_dB)
        now.insertions.clear();
    markInsertions(now);
    if (now.insertions.empty() || next.u_dB != now.u_dB) { // it is stated whole
        now.u_rest_dB.reset();
        now.u_insertion_dB = 0.0;
    }
    now.name = next.name;
    now.level_dB = next.level_dB;
    now.expected_dB = next.expected_dB;
    now.tolerance_dB = next.tolerance_dB;
    now.u_dB = next.u_dB;
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
