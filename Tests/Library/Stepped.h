// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/FileCall.h"

#include <functional>
#include <optional>
#include <string>

// Purpose: runs a piece of work in a process of its own, held at each of its calls to the system that touch files, so
//          that it can be killed there or the call be made to fail: what a crash or a bad disk does, at every step.
// Source:  ptrace(2) of Linux on x86-64; elsewhere `canStep` is false.
namespace couplet::tests {

bool canStep();

// The fate of the n-th file call, counted from 1.
struct Fate
{
    enum class Kind { goOn, kill, fail } kind = Kind::goOn;
    int error = 0; // errno of a failing call
};

struct Stepped
{
    int calls = 0;    // file calls that were begun
    std::string last; // name of the last one that had another fate than to go on
    bool killed = false;
    std::string answer; // what the work returned; absent when killed
};

// `work` returns what is to be told (at most 4 kB); `fate` hears each file call's number; `heard` is told of each call
// that changes files, once it has returned.
Stepped stepped(const std::function<std::string()>& work, const std::function<Fate(int)>& fate,
                const std::function<void(const FileCall&)>& heard = {});

} // namespace couplet::tests
