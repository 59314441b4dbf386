// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the processor does for the fit: where its readings and its correction are kept, and the controls of its page.
#include "Bench/PastedReadings.h"
#include "Bench/ReadingsTable.h"
#include "Library/Utf8.h"
#include "Plugin/Processor.h"

#include <algorithm>
#include <utility>

namespace couplet {
namespace {

constexpr std::size_t pastedAtOnce_bytes = 1u << 18; // more is read on another thread

} // namespace

const FitView& Processor::fitView()
{
    if (std::exchange(fitDue, false))
        fit.update();
    return fit.view();
}

void Processor::followLibrary()
{
    const auto& latest = desk.latest();
    if (latest == nullptr || latest == knownLibrary)
        return;
    knownLibrary = latest;
    knowLibrary(*latest);
    hasNews = true;
}

void Processor::keepFit(const FitSheet& sheet)
{
    changeSession([&](Session& s) {
        s.fit = sheet;
        s.unreadFit.clear();
    });
}

void Processor::renameFitCoupler(const std::string& from, const std::string& to)
{
    fit.renameCoupler(from, to);
    changeSession([&](Session& s) {
        if (s.fit.coupler == from)
            s.fit.coupler = to;
    });
    hasNews = true;
}

// The library first, on the thread of its files; then the session, so that no question arises between the two.
void Processor::useFit(const FitUse& use)
{
    if (use.simulated) {
        FitUsed used;
        used.asked = use;
        useOnSimulatedBench(std::move(used));
        return;
    }
    std::optional<Coupler> inSession;
    for (const auto& coupler : sessionNow().couplers)
        if (coupler && coupler->name == use.coupler)
            inSession = coupler;
    desk.onFiles([this, use, inSession](const Folder& folder) -> LibraryDesk::Ending {
        return [this, used = usedInLibrary(folder, use, inSession)]() mutable {
            if (!used.fault)
                changeSession([&](Session& s) { useInSession(s, used); });
            fit.used(std::move(used));
            showFit();
        };
    });
}

// Its coupler is kept by the bench alone.
void Processor::useOnSimulatedBench(FitUsed used)
{
    const auto& chosen = bench.chosen().coupler;
    if (!bench.chosenSettings().audio.simulated || !chosen || chosen->name != used.asked.coupler) {
        used.fault = Fault{"the simulated bench is switched off: switch it on again first"};
        return fit.used(std::move(used));
    }
    Coupler coupler = *chosen;
    used.libraryBefore.correction = coupler.correction;
    coupler.correction = used.asked.correction;
    if (coupler.current() != nullptr && !used.asked.libraryBefore)
        used.notes.emplace_back("the reference there is was taken before this correction and does not hold it: take it "
                                "again");
    bench.keepSimulated(coupler);
    fit.used(std::move(used));
}

// At once: who pressed a button must not see the state before it.
void Processor::showFit()
{
    fit.settle();
    fit.update();
    hasNews = true;
}

// Of what was asked for just now: each action begins without.
std::string Processor::refusalShown()
{
    showFit();
    return fit.view().notice;
}

void Processor::chooseFitCalibrator(const std::string& name)
{
    fit.chooseCalibrator(name);
    showFit();
}

void Processor::setMicrophoneBuiltIn(bool builtIn)
{
    fit.setBuiltIn(builtIn);
    showFit();
}

std::string Processor::setFitUncertainties(double u_transfer_dB, double u_adapter_dB)
{
    fit.setUncertainties(u_transfer_dB, u_adapter_dB);
    return refusalShown();
}

std::string Processor::addFitting(const std::string& name)
{
    fit.addFitting(name);
    return refusalShown();
}

std::string Processor::renameFitting(std::size_t index, const std::string& name)
{
    fit.renameFitting(index, name);
    return refusalShown();
}

void Processor::removeFitting(std::size_t index)
{
    fit.removeFitting(index);
    showFit();
}

void Processor::chooseFitTarget(const FitTarget& target)
{
    fit.chooseTarget(target);
    showFit();
}

void Processor::nextFitTarget()
{
    fit.nextTarget();
    showFit();
}

std::string Processor::addFitReading(const FitTarget& target, double level_dB)
{
    fit.addReading(target, level_dB);
    return refusalShown();
}

std::string Processor::changeFitReading(const FitTarget& target, std::size_t reading, double level_dB)
{
    fit.changeReading(target, reading, level_dB);
    return refusalShown();
}

std::string Processor::setFitReadingAside(const FitTarget& target, std::size_t reading, const std::string& reason)
{
    fit.setReadingAside(target, reading, reason);
    return refusalShown();
}

std::string Processor::addFitEarphone(const FitEarphone& earphone)
{
    fit.addEarphone(earphone);
    return refusalShown();
}

void Processor::addFitEarphone(const std::string& nameInLibrary)
{
    fit.addEarphone(nameInLibrary);
    showFit();
}

std::string Processor::changeFitEarphone(std::size_t index, const FitEarphone& earphone)
{
    fit.changeEarphone(index, earphone);
    return refusalShown();
}

void Processor::removeFitEarphone(std::size_t index)
{
    fit.removeEarphone(index);
    showFit();
}

void Processor::keepFitEarphoneAside(std::size_t index, bool aside)
{
    fit.keepEarphoneAside(index, aside);
    showFit();
}

std::string Processor::setFitEarphoneAside(std::size_t index, const std::string& reason)
{
    fit.setEarphoneAside(index, reason);
    return refusalShown();
}

void Processor::readFitTable(const std::filesystem::path& file)
{
    desk.onFiles([this, file](const Folder&) -> LibraryDesk::Ending {
        return [this, table = readReadingsTable(file)] {
            fit.takeTable(table);
            showFit();
        };
    });
}

void Processor::pasteFitTable(const std::string& text)
{
    const std::string where = "what was pasted";
    if (text.size() <= pastedAtOnce_bytes) {
        fit.takePasted(pastedReadings(text, where));
        showFit();
        return;
    }
    desk.onFiles([this, text, where](const Folder&) -> LibraryDesk::Ending {
        return [this, pasted = pastedReadings(text, where)] {
            fit.takePasted(pasted);
            showFit();
        };
    });
}

void Processor::clearFit()
{
    fit.clear();
    showFit();
}

void Processor::captureFitReadings(bool on)
{
    if (on)
        fit.startCapture(true);
    else
        fit.stopCapture();
    showFit();
}

void Processor::takeFitReading()
{
    fit.startCapture(false);
    showFit();
}

void Processor::askWhatIf(std::optional<double> wantedU_dB)
{
    fit.askWhatIf(wantedU_dB);
    showFit();
}

void Processor::useCorrection()
{
    fit.use();
    showFit();
}

void Processor::useNoCorrection()
{
    fit.useNone();
    showFit();
}

void Processor::fillFitFromSimulation()
{
    fit.fillFromSimulation();
    showFit();
}

void Processor::undoFit()
{
    fit.undo();
    showFit();
}

} // namespace couplet
