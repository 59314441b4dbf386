// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Dispatch.h"
#include "Library/Descriptor.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <exception>
#include <unistd.h>

namespace {

using namespace couplet;

constexpr int wrongCall = 2;

int complain(const std::string& sentence)
{
    fmt::print(stderr, "couplet: {}\n", onOneLine(sentence)); // a file's name may hold a line break
    return wrongCall;
}

// At once: a reader sees the whole answer or nothing. One that has gone away heard what it wanted.
int say(const Answer& answer)
{
    std::string_view rest = answer.text;
    while (!rest.empty()) {
        const auto written = ::write(STDOUT_FILENO, rest.data(), rest.size());
        if (written < 0 && errno == EPIPE)
            break;
        if (written < 0 && errno != EINTR)
            return complain(fmt::format("standard output could not be written ({}); make room or send it elsewhere",
                                        reasonOf(errno).sentence));
        if (written > 0)
            rest.remove_prefix(static_cast<std::size_t>(written));
    }
    return answer.status;
}

int run(const std::vector<std::string>& words)
{
    const auto answer = runCommand(words);
    return answer ? say(*answer) : complain(answer.fault().sentence);
}

} // namespace

int main(int count, char** words)
{
    std::signal(SIGPIPE, SIG_IGN); // a pipe that closes is an error like any other
    try {
        return run(count > 1 ? std::vector<std::string>(words + 1, words + count) : std::vector<std::string>());
    } catch (const std::exception& surprise) {
        return complain(
            fmt::format("this should not have happened ({}); report it with the call that led to it", surprise.what()));
    } catch (...) {
        return complain("this should not have happened; report it with the call that led to it");
    }
}
