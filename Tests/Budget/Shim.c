// SPDX-License-Identifier: GPL-3.0-or-later
//
// Loaded before a program (LD_PRELOAD): what may happen to it while it uses files. Of its calls that touch files, counted
// from 1, call COUPLET_BUDGET_AT is where it happens; COUPLET_BUDGET_WHAT is "kill" (the process is gone before the call
// is made), or the number of an error that this call and every later one gives that would change something (a disk that
// is full goes on being full). COUPLET_BUDGET_CLOCK_S is added to the clock. Where something happened, a line is added to
// COUPLET_BUDGET_TOLD.
// Source: ld.so(8), dlsym(3).
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <time.h>
#include <unistd.h>

static long calls, at = -1, error;
static int told;

static void tell(void)
{
    const char* file = getenv("COUPLET_BUDGET_TOLD");
    if (told || !file)
        return;
    told = 1;
    const long out = syscall(SYS_open, file, O_WRONLY | O_CREAT | O_APPEND, 0666);
    if (out >= 0) {
        syscall(SYS_write, out, "1\n", 2L);
        syscall(SYS_close, out);
    }
}

// Whether the call is to fail; it does not return where the process is to end.
static int fails(int changes)
{
    if (at < 0) {
        const char* where = getenv("COUPLET_BUDGET_AT");
        const char* what = getenv("COUPLET_BUDGET_WHAT");
        at = where ? atol(where) : 0;
        error = what && strcmp(what, "kill") != 0 ? atol(what) : 0;
    }
    ++calls;
    if (at == 0 || calls < at)
        return 0;
    if (error == 0) {
        tell();
        syscall(SYS_kill, (long)getpid(), (long)SIGKILL);
    }
    if (!changes)
        return 0;
    tell();
    errno = (int)error;
    return 1;
}

#define NEXT(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

static mode_t modeOf(int flags, va_list* list)
{
    return flags & (O_CREAT | __O_TMPFILE) ? va_arg(*list, mode_t) : 0;
}

#define OPEN(name)                                                                                                     \
    int name(const char* path, int flags, ...)                                                                         \
    {                                                                                                                  \
        va_list list;                                                                                                  \
        va_start(list, flags);                                                                                         \
        const mode_t mode = modeOf(flags, &list);                                                                      \
        va_end(list);                                                                                                  \
        return fails(flags & O_CREAT) ? -1 : NEXT(name)(path, flags, mode);                                            \
    }
#define OPENAT(name)                                                                                                   \
    int name(int folder, const char* path, int flags, ...)                                                             \
    {                                                                                                                  \
        va_list list;                                                                                                  \
        va_start(list, flags);                                                                                         \
        const mode_t mode = modeOf(flags, &list);                                                                      \
        va_end(list);                                                                                                  \
        return fails(flags & O_CREAT) ? -1 : NEXT(name)(folder, path, flags, mode);                                    \
    }
OPEN(open)
OPEN(open64)
OPENAT(openat)
OPENAT(openat64)

// Words to standard output and standard error get through: only files fail.
ssize_t write(int file, const void* bytes, size_t size)
{
    return file > 2 && fails(1) ? -1 : NEXT(write)(file, bytes, size);
}
int fsync(int file)
{
    return fails(1) ? -1 : NEXT(fsync)(file);
}
int rename(const char* from, const char* to)
{
    return fails(1) ? -1 : NEXT(rename)(from, to);
}
int link(const char* from, const char* to)
{
    return fails(1) ? -1 : NEXT(link)(from, to);
}
int unlink(const char* path)
{
    return fails(0) ? -1 : NEXT(unlink)(path); // a full disk lets go of files
}
int mkdir(const char* path, mode_t mode)
{
    return fails(1) ? -1 : NEXT(mkdir)(path, mode);
}
int ftruncate(int file, off_t size)
{
    return fails(0) ? -1 : NEXT(ftruncate)(file, size);
}
int close(int file)
{
    return fails(0) ? -1 : NEXT(close)(file);
}

int clock_gettime(clockid_t clock, struct timespec* now)
{
    const int done = (int)syscall(SYS_clock_gettime, clock, now);
    const char* shift = getenv("COUPLET_BUDGET_CLOCK_S");
    if (done == 0 && clock == CLOCK_REALTIME && shift)
        now->tv_sec += atol(shift);
    return done;
}
