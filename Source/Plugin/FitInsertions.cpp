// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitInsertions.h"

#include "Bench/FitEarphones.h"

#include <fmt/format.h>

#include <utility>

namespace couplet {
namespace {

const char* noSuchInsertion = "that insertion is not there any more";
const char* correctedWhole = "the level of an earphone goes with the level expected of it and their uncertainty: "
                             "correct the earphone whole";

// What a level that is typed is held against.
FitInsertion likeTheNewest(const FitEarphone& e)
{
    const FitInsertion* newest = &e.insertions.back();
    for (const auto& insertion : e.insertions)
        if (insertion.setAside.empty())
            newest = &insertion;
    FitInsertion like;
    if (newest->expected_dB)
        like.expected_dB = e.expected_dB;
    like.u_rest_dB = newest->u_rest_dB;
    like.u_insertion_dB = newest->u_insertion_dB;
    like.u_shared_dB = newest->u_shared_dB;
    return like;
}

} // namespace

std::string markFault(const std::string& reason)
{
    if (reason == notReadYet)
        return fmt::format("'{}' marks an earphone that was not read here: give the reason in other words", notReadYet);
    if (reason == everyInsertionAside)
        return fmt::format("'{}' marks an earphone none of whose insertions counts: give the reason in other words",
                           everyInsertionAside);
    return {};
}

std::string addEarphoneLevel(FitInput& input, std::size_t earphone, double level_dB)
{
    if (earphone >= input.earphones.size())
        return noSuchEarphone;
    auto& e = input.earphones[earphone];
    if (e.insertions.empty())
        return correctedWhole;
    auto typed = likeTheNewest(e);
    typed.level_dB = level_dB;
    e.insertions.push_back(std::move(typed));
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
    const bool noneLeft = hasNoInsertionLeft(now);
    const bool saysNothing = now.setAside == notReadYet || noneLeft;
    if (now.setAside == notReadYet || (noneLeft && now.setAside == everyInsertionAside))
        now.setAside.clear();
    const bool replaced = saysNothing || next.level_dB != now.level_dB || next.expected_dB != now.expected_dB;
    const bool restated = next.u_dB != now.u_dB;
    now.name = next.name;
    now.level_dB = next.level_dB;
    now.expected_dB = next.expected_dB;
    now.tolerance_dB = next.tolerance_dB;
    now.u_dB = next.u_dB;
    if (restated)
        now.u_shared_dB = 0.0; // it is whole, and nothing is known of its parts
    if (replaced)
        now.insertions.clear();
    if (now.insertions.empty()) {
        now.u_stated_dB.reset(); // u is whole
    }
    else if (restated) {
        now.u_stated_dB = next.u_dB;
        followInsertions(now);
    }
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
