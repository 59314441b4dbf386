// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Stepped.h"

#include <algorithm>
#include <array>
#include <csignal>
#include <stdexcept>
#include <sys/ptrace.h>
#include <sys/syscall.h>
#include <sys/user.h>
#include <sys/wait.h>
#include <unistd.h>
#include <utility>

namespace couplet::tests {
namespace {

#if defined(__x86_64__)
constexpr std::array<std::pair<long, const char*>, 26> fileCalls{{
    {SYS_open, "open"},           {SYS_openat, "open"},       {SYS_write, "write"},   {SYS_pwrite64, "write"},
    {SYS_writev, "write"},        {SYS_read, "read"},         {SYS_pread64, "read"},  {SYS_fsync, "fsync"},
    {SYS_fdatasync, "fsync"},     {SYS_close, "close"},       {SYS_rename, "rename"}, {SYS_renameat, "rename"},
    {SYS_renameat2, "rename"},    {SYS_link, "link"},         {SYS_linkat, "link"},   {SYS_unlink, "unlink"},
    {SYS_unlinkat, "unlink"},     {SYS_mkdir, "mkdir"},       {SYS_mkdirat, "mkdir"}, {SYS_fchmod, "fchmod"},
    {SYS_ftruncate, "ftruncate"}, {SYS_flock, "flock"},       {SYS_fstat, "stat"},    {SYS_newfstatat, "stat"},
    {SYS_getdents64, "getdents"}, {SYS_readlink, "readlink"},
}};

const char* nameOfFileCall(long number)
{
    const auto* found =
        std::find_if(fileCalls.begin(), fileCalls.end(), [&](const auto& call) { return call.first == number; });
    return found == fileCalls.end() ? nullptr : found->second;
}

// The child stops at once, so that nothing of it runs unwatched.
[[noreturn]] void beTraced(const std::function<std::string()>& work, int answers)
{
    ::ptrace(PTRACE_TRACEME, 0, nullptr, nullptr);
    ::raise(SIGSTOP);
    const auto answer = work();
    ::raise(SIGSTOP); // from here on it is not the work's
    const auto told = ::write(answers, answer.data(), answer.size());
    ::_exit(told == static_cast<ssize_t>(answer.size()) ? 0 : 1);
}

class Tracer
{
public:
    Tracer(pid_t c, const std::function<Fate(int)>& f, const std::function<void(const FileCall&)>& h)
        : child(c), fate(f), heard(h)
    {
    }

    // Until the work has returned (true) or was killed (false).
    bool run(Stepped& result)
    {
        if (!waitForStop(SIGSTOP))
            throw std::runtime_error("the process could not be held");
        ::ptrace(PTRACE_SETOPTIONS, child, nullptr, PTRACE_O_TRACESYSGOOD | PTRACE_O_EXITKILL);
        while (true) {
            if (!resume())
                return true;
            if (!onEntry(result))
                return false;
            if (!resume())
                return true;
            onExit();
        }
    }

    pid_t process() const { return child; }

private:
    static constexpr int atCall = SIGTRAP | 0x80;

    bool waitForStop(int wanted)
    {
        int status = 0;
        return ::waitpid(child, &status, 0) == child && WIFSTOPPED(status) && WSTOPSIG(status) == wanted;
    }

    // To the next call's entry or exit; false: the work is done.
    bool resume()
    {
        ::ptrace(PTRACE_SYSCALL, child, nullptr, nullptr);
        int status = 0;
        if (::waitpid(child, &status, 0) != child || !WIFSTOPPED(status))
            throw std::runtime_error("the process ended before its work");
        if (WSTOPSIG(status) == SIGSTOP)
            return false;
        if (WSTOPSIG(status) != atCall)
            throw std::runtime_error("the process was stopped by a signal");
        return true;
    }

    bool onEntry(Stepped& result)
    {
        error = 0;
        user_regs_struct registers = {};
        ::ptrace(PTRACE_GETREGS, child, nullptr, &registers);
        going = heard ? fileCallAt(child, registers) : std::nullopt;
        const char* name = nameOfFileCall(static_cast<long>(registers.orig_rax));
        if (name == nullptr)
            return true;
        const Fate chosen = fate(++result.calls);
        if (chosen.kind == Fate::Kind::goOn)
            return true;
        result.last = name;
        if (chosen.kind == Fate::Kind::kill)
            return false;
        error = chosen.error;
        registers.orig_rax = static_cast<unsigned long long>(-1); // no such call: nothing is done
        ::ptrace(PTRACE_SETREGS, child, nullptr, &registers);
        return true;
    }

    void onExit() const
    {
        if (error == 0 && !going)
            return;
        user_regs_struct registers = {};
        ::ptrace(PTRACE_GETREGS, child, nullptr, &registers);
        if (error == 0) {
            auto ended = *going;
            ended.result = static_cast<long>(registers.rax);
            return heard(ended);
        }
        registers.rax = static_cast<unsigned long long>(-static_cast<long long>(error));
        ::ptrace(PTRACE_SETREGS, child, nullptr, &registers);
    }

    pid_t child;
    const std::function<Fate(int)>& fate;
    const std::function<void(const FileCall&)>& heard;
    int error = 0;                 // of the call that is going on
    std::optional<FileCall> going; // that call, where somebody hears of it
};
#endif

} // namespace

#if defined(__x86_64__)

bool canStep()
{
    static const bool can = [] {
        try {
            return stepped([] { return std::string("yes"); }, [](int) { return Fate{}; }).answer == "yes";
        } catch (const std::runtime_error&) {
            return false;
        }
    }();
    return can;
}

Stepped stepped(const std::function<std::string()>& work, const std::function<Fate(int)>& fate,
                const std::function<void(const FileCall&)>& heard)
{
    int ends[2];
    if (::pipe(ends) != 0)
        throw std::runtime_error("no pipe");
    const auto child = ::fork();
    if (child == 0) {
        ::close(ends[0]);
        beTraced(work, ends[1]);
    }
    ::close(ends[1]);
    Stepped result;
    Tracer tracer(child, fate, heard);
    try {
        result.killed = !tracer.run(result);
    } catch (...) {
        ::kill(child, SIGKILL);
        ::waitpid(child, nullptr, 0);
        ::close(ends[0]);
        throw;
    }
    if (result.killed)
        ::kill(child, SIGKILL);
    else
        ::ptrace(PTRACE_DETACH, child, nullptr, nullptr);
    if (!result.killed) {
        char text[4096];
        for (ssize_t n = 0; (n = ::read(ends[0], text, sizeof text)) > 0;)
            result.answer.append(text, static_cast<std::size_t>(n));
    }
    ::close(ends[0]);
    ::waitpid(child, nullptr, 0);
    return result;
}

#else

bool canStep()
{
    return false;
}

Stepped stepped(const std::function<std::string()>&, const std::function<Fate(int)>&,
                const std::function<void(const FileCall&)>&)
{
    throw std::runtime_error("this system cannot step through another program's calls");
}

#endif

} // namespace couplet::tests
