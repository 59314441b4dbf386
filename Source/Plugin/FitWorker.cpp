// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitWorker.h"

#include <new>
#include <utility>

namespace couplet {

FitWorker::~FitWorker()
{
    ending = true;
    if (known)
        worker->remove(*this);
}

void FitWorker::ask(FitOrder asked)
{
    {
        const std::lock_guard lock(mutex);
        question = std::move(asked);
        ++asks;
    }
    if (known)
        return;
    known = worker->add(*this);
    if (known)
        return;
    const std::lock_guard lock(mutex);
    auto none = std::make_shared<FitAnswer>();
    none->number = question->number;
    none->wish = question->wish;
    none->input = question->input;
    none->whyNot = "the system gives no thread to work the fit out on; close something and change a reading";
    told = std::move(none);
}

std::shared_ptr<const FitAnswer> FitWorker::newest()
{
    std::shared_ptr<const FitAnswer> now;
    bool done = false;
    {
        const std::lock_guard lock(mutex);
        now = told;
        done = now != nullptr && question && now->number == question->number && now->wish == question->wish;
    }
    if (done && known) { // so that the next question wakes it at once
        worker->remove(*this);
        known = false;
    }
    return now;
}

bool FitWorker::overtaken() const
{
    return ending || asks != currentAsk;
}

bool FitWorker::work() noexcept
try {
    FitOrder next;
    bool isNew = false;
    {
        const std::lock_guard lock(mutex);
        if (question && currentAsk != asks) {
            currentAsk = asks;
            next = *question;
            isNew = true;
        }
    }
    if (!isNew)
        return goOnWithWhatIf();
    workOut(next);
    return true;
} catch (const std::bad_alloc&) { // what was told before stands
    return false;
}

void FitWorker::workOut(const FitOrder& next)
{
    const bool sameReadings = next.number == current.number;
    current = next;
    step = 0;
    answer.whatIf.reset();
    answer.wish = current.wantedU_dB ? current.wish - 1 : current.wish;
    if (sameReadings)
        return tell();
    answer.number = current.number;
    answer.input = current.input;
    answer.fit.reset();
    answer.words = {};
    answer.whyNot.clear();
    auto fit = fitCorrection(*current.input);
    if (fit) {
        answer.words = wordsOf(*current.input, *fit, current.certified_dB);
        answer.fit = std::make_shared<const CorrectionFit>(*std::move(fit));
    }
    else {
        answer.whyNot = fit.fault().sentence;
    }
    ++answer.fitsWorked;
    tell();
}

// One group a slice; true while there is more.
bool FitWorker::goOnWithWhatIf()
{
    if (current.number == 0 || answer.wish == current.wish)
        return false;
    if (!current.wantedU_dB || answer.fit == nullptr || !answer.fit->hasUncertainty()) {
        answer.wish = current.wish;
        tell();
        return false;
    }
    const auto& fit = *answer.fit;
    const auto& evidence = fit.evidence;
    const auto stop = [this] { return overtaken(); };
    if (step == 0) {
        answer.whatIf.emplace();
        answer.whatIf->wantedU_dB = *current.wantedU_dB;
    }
    auto& whatIf = *answer.whatIf;
    if (step < evidence.fittings.size()) {
        whatIf.more.ofFitting.push_back(readingsOfFittingForU(evidence, step++, *current.wantedU_dB, stop));
        return true;
    }
    if (fit.through)
        whatIf.more.ofThrough = readingsOfThroughForU(evidence, fit.through->count,
                                                      fit.through->scatter_dB.value_or(0.0), *current.wantedU_dB, stop);
    if (overtaken())
        return true;
    for (const auto& [a, b] : fit.notToldApart)
        whatIf.pairs.push_back({a, b,
                                readingsToTellApart(evidence.fittings[a], evidence.fittings[b], *fit.posterior.kappa),
                                readingsToTellApart(evidence.fittings[b], evidence.fittings[a], *fit.posterior.kappa)});
    answer.wish = current.wish;
    tell();
    return false;
}

void FitWorker::tell()
{
    auto next = std::make_shared<const FitAnswer>(answer);
    const std::lock_guard lock(mutex);
    told = std::move(next);
}

} // namespace couplet
