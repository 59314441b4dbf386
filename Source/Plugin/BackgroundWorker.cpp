// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/BackgroundWorker.h"

#include <algorithm>
#include <chrono>
#include <pthread.h>
#include <sched.h>
#include <sys/resource.h>
#include <system_error>

namespace couplet {
namespace {

constexpr auto pause = std::chrono::milliseconds(50);
constexpr int niceness = 10;

// A host may have made us on a thread of real-time priority, which a new thread would inherit. On Linux niceness is a
// thread's own.
void stepBack()
{
    const sched_param ordinary{};
    ::pthread_setschedparam(::pthread_self(), SCHED_OTHER, &ordinary);
    ::setpriority(PRIO_PROCESS, 0, niceness);
    ::pthread_setname_np(::pthread_self(), "couplet-worker"); // 15 characters at most
}

std::shared_ptr<BackgroundWorker> oneOf(std::weak_ptr<BackgroundWorker>& only)
{
    auto worker = only.lock();
    if (worker == nullptr)
        only = worker = std::make_shared<BackgroundWorker>();
    return worker;
}

} // namespace

std::shared_ptr<BackgroundWorker> BackgroundWorker::shared()
{
    static std::mutex mutex;
    static std::weak_ptr<BackgroundWorker> only;
    const std::lock_guard lock(mutex);
    return oneOf(only);
}

std::shared_ptr<BackgroundWorker> BackgroundWorker::forLongWork()
{
    static std::mutex mutex;
    static std::weak_ptr<BackgroundWorker> only;
    const std::lock_guard lock(mutex);
    return oneOf(only);
}

BackgroundWorker::~BackgroundWorker()
{
    {
        const std::lock_guard lock(mutex);
        ending = true;
    }
    changed.notify_all();
    if (thread.joinable())
        thread.join();
}

bool BackgroundWorker::add(Task& task)
{
    const std::lock_guard lock(mutex);
    if (!thread.joinable()) {
        try {
            thread = std::thread([this] { run(); });
        } catch (const std::system_error&) {
            return false;
        }
    }
    tasks.push_back(&task);
    changed.notify_all();
    return true;
}

void BackgroundWorker::remove(Task& task)
{
    std::unique_lock lock(mutex);
    tasks.erase(std::remove(tasks.begin(), tasks.end(), &task), tasks.end());
    sliceDone.wait(lock, [&] { return running != &task; });
}

void BackgroundWorker::run()
{
    stepBack();
    std::unique_lock lock(mutex);
    while (!ending) {
        changed.wait(lock, [this] { return ending || !tasks.empty(); });
        bool more = false;
        for (std::size_t i = 0; i < tasks.size() && !ending; ++i) { // one that is added or removed meanwhile waits
            running = tasks[i];
            lock.unlock();
            more = running->work() || more;
            lock.lock();
            running = nullptr;
            sliceDone.notify_all();
        }
        if (!more)
            changed.wait_for(lock, pause, [this] { return ending; });
    }
}

} // namespace couplet
