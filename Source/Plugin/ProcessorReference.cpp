// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the processor does for references: where they are kept, and the controls of their page.
#include "Library/Folder.h"
#include "Plugin/Processor.h"

#include <utility>

namespace couplet {

// In the session and in the library, each in its own copy: the library's history may hold what the session's does not,
// and the other way round.
Outcome<Done> Processor::changeCoupler(const std::string& name, bool simulated, const ReferenceBench::Change& change)
{
    if (simulated) {
        Coupler coupler = *bench.chosen().coupler;
        const auto done = change(coupler);
        if (done)
            bench.keepSimulated(coupler);
        return done;
    }
    std::optional<Coupler> inSession;
    Outcome<Done> all = Done{};
    changeSession([&](Session& s) {
        for (auto& coupler : s.couplers)
            if (coupler && coupler->name == name) {
                if (const auto done = change(*coupler); !done)
                    all = done;
                inSession = coupler;
            }
    });
    if (!all)
        return all;
    const Folder folder(Folder::defaultPath());
    auto inLibrary = folder.coupler(name);
    if (!inLibrary && folder.holdsCoupler(name))
        return Fault{"kept in this session, but not in the library: " + inLibrary.fault().sentence};
    if (!inLibrary && !inSession)
        return Fault{"the coupler '" + name + "' is gone from the session and from the library: nothing was kept"};
    Coupler wanted = inLibrary ? *inLibrary : *inSession;
    if (inLibrary)
        if (const auto done = change(wanted); !done)
            return done;
    if (const auto saved = folder.save(wanted); !saved)
        return Fault{"kept in this session, but not in the library: " + saved.fault().sentence};
    return Done{};
}

void Processor::knowLibrary(const Folder::Listing& library)
{
    fit.know(library);
    std::vector<Calibrator> calibrators;
    for (const Item& item : library.items)
        if (const auto* calibrator = std::get_if<Calibrator>(&item))
            calibrators.push_back(*calibrator);
    reference.know(std::move(calibrators));
}

const ReferenceView& Processor::referenceView()
{
    if (std::exchange(referenceDue, false))
        reference.update();
    return reference.view();
}

// The live bench's coupler stands from the start to the end of a capture.
void Processor::bindCoupler()
{
    if (reference.captures() != boundToReference)
        bench.capture(reference.captures());
    boundToReference = reference.captures();
}

// At once: who pressed a button must not see the state before it.
void Processor::showReference()
{
    bindCoupler();
    reference.update();
    hasNews = true;
}

void Processor::startCapture(CaptureKind kind, bool handsFree)
{
    if (!reference.captures()) // a calibrator may have been added meanwhile
        knowLibrary(Folder(Folder::defaultPath()).list());
    fit.endCapture("The capture was ended, for a reference is being taken.");
    reference.start(kind, handsFree);
    showReference();
}

void Processor::chooseCalibrator(const std::string& name)
{
    reference.chooseCalibrator(name);
    showReference();
}

void Processor::chooseCalibratorLevel(std::optional<double> level_dB)
{
    reference.chooseLevel(level_dB);
    showReference();
}

void Processor::setPressure(std::optional<Kilopascals> pressure)
{
    reference.setPressure(pressure);
    showReference();
}

void Processor::setSeatings(int count)
{
    reference.setSeatings(count);
    showReference();
}

void Processor::setJudgedTerms(const JudgedTerms& judged)
{
    reference.setJudged(judged);
    showReference();
}

void Processor::takeReference()
{
    startCapture(CaptureKind::reference, false);
}

void Processor::takeReferenceHandsFree()
{
    startCapture(CaptureKind::reference, true);
}

void Processor::hearSecondLevel()
{
    startCapture(CaptureKind::secondLevel, false);
}

void Processor::checkReference()
{
    startCapture(CaptureKind::quickCheck, false);
}

void Processor::cancelReference()
{
    reference.cancel();
    showReference();
}

void Processor::finishSeatings()
{
    reference.finish();
    showReference();
}

void Processor::keepMovedReference()
{
    reference.keepMoved();
    showReference();
}

void Processor::undoReference()
{
    reference.undo();
    showReference();
}

void Processor::setReferenceAside(std::size_t index, const std::string& reason)
{
    if (!reason.empty())
        reference.setAside(index, reason);
    showReference();
}

void Processor::putReferenceBack(std::size_t index)
{
    reference.setAside(index, {});
    showReference();
}

} // namespace couplet
