// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitBench.h"

#include "Bench/SimulatedPapers.h"
#include "Plugin/Sentence.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <utility>

namespace couplet {
namespace {

constexpr std::size_t mostSteps = 50, mostReadingsInSteps = 200000;

std::size_t readingsIn(const FitSheet& sheet)
{
    std::size_t count = sheet.input.through.readings.size();
    for (const auto& fitting : sheet.input.fittings)
        count += fitting.readings.size();
    for (const auto& e : sheet.input.earphones)
        count += e.insertions.size();
    return count;
}

bool isNothing(const FitInput& input)
{
    return input.fittings.empty() && input.earphones.empty() && input.through.readings.empty();
}

} // namespace

void FitBench::know(const Folder::Listing& library)
{
    const auto before = std::exchange(calibrators, {});
    earphones.clear();
    for (const Item& item : library.items) {
        if (const auto* calibrator = std::get_if<Calibrator>(&item))
            calibrators.push_back(*calibrator);
        if (const auto* earphone = std::get_if<Earphone>(&item); earphone != nullptr && unreadEarphone(*earphone))
            earphones.push_back(*earphone);
    }
    const auto sameName = [](const Calibrator& a, const Calibrator& b) { return a.name == b.name; };
    if (!std::equal(before.begin(), before.end(), calibrators.begin(), calibrators.end(), sameName))
        adoptNewCalibrator();
}

void FitBench::adopt(const FitSheet& saved)
{
    Papers& real = both[0];
    if (saved == real.sheet)
        return;
    real.sheet = saved;
    real.steps.clear();
    askedFor.clear(); // it was asked, and said, of readings that are gone
    shown.notice.clear();
    shown.told.clear();
    shown.used.clear();
    if (!wasSimulated) {
        moveTo({});
        sheetChanged();
    }
}

// The session's own copy is renamed by whoever renames the coupler. The simulated bench has none of the library's.
void FitBench::renameCoupler(const std::string& from, const std::string& to)
{
    const auto rename = [&](std::string& name) {
        if (name == from)
            name = to;
    };
    Papers& real = both[0];
    rename(real.sheet.coupler);
    for (Step& step : real.steps) {
        if (step.sheet)
            rename(step.sheet->coupler);
        if (step.use)
            rename(step.use->coupler);
    }
    if (wasSimulated)
        return;
    rename(boundCoupler);
    if (std::exchange(askedFor, {}).empty())
        return;
    shown.notice.clear(); // it was asked by the name before
}

// Another bench is another sheet, and what is heard there belongs to no other.
void FitBench::followBench()
{
    const auto couplerName = couplerNow();
    if (couplerName != boundCoupler)
        shown.lastKept_dB.reset();
    if (!askedFor.empty() && askedFor != couplerName) { // it was asked of another
        askedFor.clear();
        shown.notice.clear();
    }
    if (simulated() != wasSimulated) {
        endCapture("The capture was ended, for the bench was changed.");
        capture.forgetSeating();
        wasSimulated = simulated();
        moveTo({});
        wantedU_dB.reset();
        askedFor.clear();
        shown.notice.clear();
        shown.told.clear();
        shown.used.clear();
        if (wasSimulated && papers().sheet.isNew()) // whatever was chosen for the real one
            takeCalibrator(papers().sheet, calibratorOnPaper(demoScenario()));
        sheetChanged();
    }
    else if (capture.runs() && couplerName != boundCoupler) {
        endCapture("The capture was ended, for another coupler was chosen.");
    }
    else if (capture.runs() && live.chosen().channel != boundChannel) {
        endCapture("The capture was ended, for the microphone's channel was changed.");
    }
    else if (capture.runs()) {
        if (const auto why = whyNoReading(); !why.empty()) // undone to a sheet of another coupler
            endCapture(asSentence(why));
    }
}

void FitBench::beginAction()
{
    captureEnded.clear();
    askedFor.clear();
    followBench();
    shown.notice.clear();
    shown.told.clear();
}

void FitBench::refuse(const std::string& why)
{
    shown.notice = asSentence(why);
}

bool FitBench::change(const std::string& text, const Edit& edit)
{
    beginAction();
    FitSheet next = sheet();
    adoptCalibrator(next);
    if (const auto why = edit(next); !why.empty()) {
        refuse(why);
        return false;
    }
    if (!holdsReadings(next.input))
        next.coupler.clear();
    else if (!holdsReadings(sheet().input))
        next.coupler = couplerNow();
    if (bytesOf(next) > largestSheet_bytes && bytesOf(next) > bytesOf(sheet())) {
        refuse(fmt::format("there are more readings than a session keeps ({} MB); begin another sheet with the means",
                           largestSheet_bytes >> 20));
        return false;
    }
    if (next == sheet())
        return true;
    pushStep({text, sheet(), {}});
    papers().sheet = std::move(next);
    shown.used.clear();
    sheetChanged();
    if (!wasSimulated)
        out.keepSheet(sheet());
    return true;
}

void FitBench::pushStep(Step step)
{
    auto& steps = papers().steps;
    steps.push_back(std::move(step));
    const auto readings = [&] {
        return std::accumulate(steps.begin(), steps.end(), std::size_t{0}, [](std::size_t sum, const Step& s) {
            return sum + (s.sheet ? readingsIn(*s.sheet) : 0);
        });
    };
    while (steps.size() > 1 && (steps.size() > mostSteps || readings() > mostReadingsInSteps))
        steps.pop_front();
}

void FitBench::undo()
{
    beginAction();
    auto& steps = papers().steps;
    if (steps.empty() || keeps)
        return;
    const Step step = steps.back();
    steps.pop_back();
    shown.used.clear();
    if (step.use) {
        keeps = true;
        out.use(*step.use);
        return;
    }
    const auto name = nameOf(target);
    const auto before = std::exchange(papers().sheet, *step.sheet);
    shown.lastKept_dB.reset();
    findTargetAgain(name, before.input);
    sheetChanged();
    if (!wasSimulated)
        out.keepSheet(sheet());
}

// An empty sheet is answered here: nobody starts a thread who never comes to this page.
void FitBench::sheetChanged()
{
    ++sheetNumber;
    sheetShown = false;
    auto input = std::make_shared<const FitInput>(sheet().input);
    if (!isNothing(*input)) {
        worker.ask({sheetNumber, wish, std::move(input), sheet().certified_dB, wantedU_dB});
        return;
    }
    auto nothing = std::make_shared<FitAnswer>();
    nothing->number = sheetNumber;
    nothing->wish = wish;
    if (const auto fit = fitCorrection(*input); !fit)
        nothing->whyNot = fit.fault().sentence;
    nothing->input = std::move(input);
    answer = std::move(nothing);
}

void FitBench::askWhatIf(std::optional<double> wanted_dB)
{
    constexpr double most_dB = 100.0;
    beginAction();
    if (wanted_dB && !(*wanted_dB > 0.0 && *wanted_dB <= most_dB))
        return refuse("the uncertainty wanted must be above 0 dB; write for example 0.3");
    wantedU_dB = wanted_dB;
    ++wish;
    if (isNothing(sheet().input)) {
        sheetChanged();
        return;
    }
    worker.ask({sheetNumber, wish, std::make_shared<const FitInput>(sheet().input), sheet().certified_dB, wantedU_dB});
}

bool FitBench::settle()
{
    followBench();
    const auto newest = worker.newest();
    if (newest == nullptr || newest == answer || (answer != nullptr && newest->number < answer->number))
        return false;
    answer = newest;
    return true;
}

} // namespace couplet
