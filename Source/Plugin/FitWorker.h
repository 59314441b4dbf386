// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/BackgroundWorker.h"
#include "Plugin/FitView.h"

#include <atomic>
#include <cstdint>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

// Purpose: works out the fit of an instance's readings, and what more of them would do, on a thread of low priority. Only
//          the newest question counts: what is asked while one is worked on is worked on next, and what was asked
//          between is not.
// Errors:  in the answer, one sentence.
// Thread:  message; the destructor: any but audio, and it waits for at most one integral.
namespace couplet {

struct FitOrder
{
    std::uint64_t number = 0; // another one for other readings; not 0
    std::uint64_t wish = 0;   // another one for another wanted U of the same readings
    std::shared_ptr<const FitInput> input;
    std::optional<double> certified_dB;
    std::optional<double> wantedU_dB; // absent: nobody asks what more readings would do
};

struct FitAnswer
{
    std::uint64_t number = 0, wish = 0; // wish: that `whatIf` answers; before it is worked out, another one
    std::shared_ptr<const FitInput> input;
    std::shared_ptr<const CorrectionFit> fit; // null: see whyNot
    FitWords words;
    std::string whyNot;
    std::optional<FitWhatIf> whatIf;
    std::uint64_t fitsWorked = 0; // since the worker began
};

class FitWorker : private BackgroundWorker::Task
{
public:
    FitWorker() = default;
    ~FitWorker() override;
    FitWorker(const FitWorker&) = delete;
    FitWorker& operator=(const FitWorker&) = delete;

    void ask(FitOrder);
    // Another pointer whenever there is something new; null: nothing yet. To be asked often.
    std::shared_ptr<const FitAnswer> newest();

private:
    bool work() noexcept override; // worker
    void workOut(const FitOrder&);
    bool goOnWithWhatIf();
    void tell();
    bool overtaken() const;

    const std::shared_ptr<BackgroundWorker> worker = BackgroundWorker::forLongWork();
    bool known = false; // to the worker; message
    std::atomic<bool> ending{false};
    std::atomic<std::uint64_t> asks{0};

    mutable std::mutex mutex; // of the next two
    std::optional<FitOrder> question;
    std::shared_ptr<const FitAnswer> told;

    // Of the worker's thread.
    FitOrder current;
    FitAnswer answer;
    std::uint64_t currentAsk = 0;
    std::size_t step = 0; // of the what-if: fittings, through, pairs
};

} // namespace couplet
