// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Dispatch.h"
#include "Library/Descriptor.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <exception>
#include <fcntl.h>
#include <unistd.h>

namespace {

using namespace couplet;

constexpr int wrongCall = 2;

// Without C's streams: where standard error is full or closed, nobody can be told, but the status still says it.
int complain(const std::string& sentence)
{
    const auto line = fmt::format("couplet: {}\n", onOneLine(sentence)); // a file's name may hold a line break
    std::string_view rest = line;
    while (!rest.empty()) {
        const auto written = ::write(STDERR_FILENO, rest.data(), rest.size());
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            break;
        rest.remove_prefix(static_cast<std::size_t>(written));
    }
    return wrongCall;
}

// A file of the library must never get the number of a stream that the caller closed, or words meant for that would go
// into it. What stands there instead refuses what the stream is for, so that it goes on being closed.
void holdClosedStreams()
{
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
        if (::fcntl(stream, F_GETFD) < 0 && errno == EBADF)
            ::open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY); // the lowest free number: this one
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
    holdClosedStreams();
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
