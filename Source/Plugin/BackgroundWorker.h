// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <condition_variable>
#include <memory>
#include <mutex>
#include <thread>
#include <vector>

// Purpose: a thread of low priority that all instances in the process share. It starts with the first task, sleeps
//          while there is none, and ends with the last instance.
// Errors:  where no thread can be had nothing is worked, and `add` says so.
// Thread:  any but audio.
namespace couplet {

class BackgroundWorker
{
public:
    class Task
    {
    public:
        virtual ~Task() = default;
        // A slice of some milliseconds; true when more is to be done at once. Must not throw.
        virtual bool work() noexcept = 0;
    };

    // The one of this process.
    static std::shared_ptr<BackgroundWorker> shared();
    // Its other one, for slices of some hundred milliseconds, which streams of samples must not wait for.
    static std::shared_ptr<BackgroundWorker> forLongWork();

    BackgroundWorker() = default;
    ~BackgroundWorker();
    BackgroundWorker(const BackgroundWorker&) = delete;
    BackgroundWorker& operator=(const BackgroundWorker&) = delete;

    bool add(Task&);
    // Waits for a slice of this task that is going on; afterwards the task may be gone.
    void remove(Task&);

private:
    void run();

    std::mutex mutex;
    std::condition_variable changed, sliceDone;
    std::vector<Task*> tasks;
    Task* running = nullptr;
    bool ending = false;
    std::thread thread;
};

} // namespace couplet
