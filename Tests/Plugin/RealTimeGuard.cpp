// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/RealTimeGuard.h"

#include <cerrno>
#include <cstdlib>
#include <ctime>
#include <dlfcn.h>
#include <pthread.h>
#include <unistd.h>

extern "C" {
void* __libc_malloc(std::size_t);
void* __libc_calloc(std::size_t, std::size_t);
void* __libc_realloc(void*, std::size_t);
void __libc_free(void*);
void* __libc_memalign(std::size_t, std::size_t);
}

namespace {

using couplet::tests::Violations;

// Thread-local storage that is there from the start: any other would be allocated at first use.
thread_local __attribute__((tls_model("initial-exec"))) int watched = 0;
thread_local __attribute__((tls_model("initial-exec"))) Violations violations;

void count(long Violations::*what) noexcept
{
    if (watched > 0)
        ++(violations.*what);
}

template <class Function> Function theRealOne(const char* name) noexcept
{
    return reinterpret_cast<Function>(::dlsym(RTLD_NEXT, name));
}

} // namespace

namespace couplet::tests {

Violations takeViolations() noexcept
{
    const auto taken = violations;
    violations = {};
    return taken;
}

Watch::Watch() noexcept
{
    ++watched;
}
Watch::~Watch() noexcept
{
    --watched;
}

} // namespace couplet::tests

extern "C" {
void* malloc(std::size_t n)
{
    count(&Violations::mallocs);
    return __libc_malloc(n);
}
void* calloc(std::size_t a, std::size_t b)
{
    count(&Violations::mallocs);
    return __libc_calloc(a, b);
}
void* realloc(void* p, std::size_t n)
{
    count(&Violations::mallocs);
    return __libc_realloc(p, n);
}
void free(void* p)
{
    if (p != nullptr)
        count(&Violations::frees);
    __libc_free(p);
}
void* memalign(std::size_t a, std::size_t n)
{
    count(&Violations::mallocs);
    return __libc_memalign(a, n);
}
void* aligned_alloc(std::size_t a, std::size_t n)
{
    count(&Violations::mallocs);
    return __libc_memalign(a, n);
}
int posix_memalign(void** out, std::size_t a, std::size_t n)
{
    count(&Violations::mallocs);
    *out = __libc_memalign(a, n);
    return *out != nullptr ? 0 : ENOMEM;
}

int pthread_mutex_lock(pthread_mutex_t* m) noexcept
{
    static auto real = theRealOne<int (*)(pthread_mutex_t*)>("pthread_mutex_lock");
    count(&Violations::locks);
    return real(m);
}
int pthread_rwlock_rdlock(pthread_rwlock_t* m) noexcept
{
    static auto real = theRealOne<int (*)(pthread_rwlock_t*)>("pthread_rwlock_rdlock");
    count(&Violations::locks);
    return real(m);
}
int pthread_rwlock_wrlock(pthread_rwlock_t* m) noexcept
{
    static auto real = theRealOne<int (*)(pthread_rwlock_t*)>("pthread_rwlock_wrlock");
    count(&Violations::locks);
    return real(m);
}
int pthread_cond_wait(pthread_cond_t* c, pthread_mutex_t* m)
{
    static auto real = theRealOne<int (*)(pthread_cond_t*, pthread_mutex_t*)>("pthread_cond_wait");
    count(&Violations::waits);
    return real(c, m);
}
int nanosleep(const timespec* a, timespec* b)
{
    static auto real = theRealOne<int (*)(const timespec*, timespec*)>("nanosleep");
    count(&Violations::waits);
    return real(a, b);
}
int clock_nanosleep(clockid_t c, int f, const timespec* a, timespec* b)
{
    static auto real = theRealOne<int (*)(clockid_t, int, const timespec*, timespec*)>("clock_nanosleep");
    count(&Violations::waits);
    return real(c, f, a, b);
}
int sched_yield() noexcept
{
    static auto real = theRealOne<int (*)()>("sched_yield");
    count(&Violations::waits);
    return real();
}
ssize_t write(int d, const void* b, std::size_t n)
{
    static auto real = theRealOne<ssize_t (*)(int, const void*, std::size_t)>("write");
    count(&Violations::io);
    return real(d, b, n);
}
ssize_t read(int d, void* b, std::size_t n)
{
    static auto real = theRealOne<ssize_t (*)(int, void*, std::size_t)>("read");
    count(&Violations::io);
    return real(d, b, n);
}
}
