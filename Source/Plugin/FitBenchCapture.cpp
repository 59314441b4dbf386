// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of FitBench that hears: readings captured live, and those of the simulated bench.
#include "Plugin/FitBench.h"

#include "Bench/SimulatedFit.h"
#include "Bench/SimulatedPapers.h"
#include "Library/IsoTime.h"
#include "Library/Utf8.h"
#include "Metrology/Fitness.h"
#include "Plugin/Sentence.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double earphoneSteady_dB = 0.05; // as a reading has it (method of this product, no source)
constexpr double anotherScale_dB = 20.0;   // from all other readings: no coupler takes that away

const char* anotherScaleText = "more than 20 dB away from the others: on another scale?";

// A millionth of a decibel and a thousandth of a hertz are beyond anything heard.
double rounded(double value, double perUnit)
{
    return std::round(value * perUnit) / perUnit;
}

double secondsNow()
{
    const auto now = instantFrom(timeNow());
    return now ? std::chrono::duration<double>(now->time_since_epoch()).count() : 0.0;
}

// The middle of all readings of fittings and through the coupler that count.
std::optional<double> meanOf(const FitInput& input)
{
    double sum_dB = 0.0;
    std::size_t count = 0;
    const auto add = [&](const FitGroup& group) {
        for (const auto& reading : group.readings)
            if (reading.setAside.empty()) {
                sum_dB += reading.level_dB;
                ++count;
            }
    };
    for (const auto& fitting : input.fittings)
        add(fitting);
    add(input.through);
    return count > 0 ? std::optional(sum_dB / static_cast<double>(count)) : std::nullopt;
}

} // namespace

double FitBench::zeroNow_dB() const
{
    if (sheet().zero_dB)
        return *sheet().zero_dB;
    // What the fittings are held against has to stay what it is: two decimals of it do.
    return rounded(offsetAsIfBare_dB(live.chosen().coupler).value_or(0.0), 100.0);
}

// Within 160 to 1250 Hz, as calibrators play, a class has one limit.
double FitBench::mayStray_dB() const
{
    if (target.kind == FitKind::earphone)
        return earphoneSteady_dB;
    const auto& name = sheet().input.settings.calibrator;
    const auto found =
        std::find_if(calibrators.begin(), calibrators.end(), [&](const Calibrator& c) { return c.name == name; });
    const auto known = !wasSimulated && found != calibrators.end() ? found->calibratorClass : std::nullopt;
    return calibratorLimits(known, Hertz(1000.0))->fluctuation_dB;
}

Setup FitBench::setupOf(const FitTarget& t) const
{
    Setup setup = live.chosen();
    setup.earphone.reset();
    if (t.kind != FitKind::earphone || t.index >= sheet().input.earphones.size())
        return setup;
    setup.earphone = earphoneNamed(sheet().input.earphones[t.index].name);
    return setup;
}

std::optional<Earphone> FitBench::earphoneNamed(const std::string& name) const
{
    if (wasSimulated) {
        const auto scenario = demoScenario();
        for (std::size_t i = 0; i < scenario.earphones.size(); ++i)
            if (scenario.earphones[i].name == name)
                return earphoneOnPaper(scenario, i);
        return {};
    }
    const auto found = std::find_if(earphones.begin(), earphones.end(), [&](const auto& e) { return e.name == name; });
    return found != earphones.end() ? std::optional(*found) : std::nullopt;
}

// One that is sensed is known while it sounds.
std::optional<Drive> FitBench::driveNow() const
{
    return live.chosen().driveFullScale ? live.view().reading.drive : live.chosen().drive;
}

std::optional<double> FitBench::asReading_dB(const ToneSummary& tone) const
{
    if (!tone.level_dBFS)
        return {};
    if (target.kind != FitKind::earphone)
        return *tone.level_dBFS + zeroNow_dB();
    const auto reading = readEarphone(tone, setupOf(target));
    return reading ? std::optional(reading->level_dB) : std::nullopt;
}

// Nothing is begun that could not be kept.
std::string FitBench::whyNoEarphoneReading() const
{
    if (target.kind != FitKind::earphone || !capture.runs())
        return {};
    const auto tone = capture.tone();
    if (!tone.level_dBFS)
        return {};
    const auto reading = readEarphone(tone, setupOf(target));
    if (!reading)
        return reading.fault().sentence;
    const auto& phones = sheet().input.earphones;
    return target.index < phones.size() ? asSentence(whyNoInsertion(phones[target.index], *reading)) : std::string();
}

void FitBench::add(const Heard& heard)
{
    if (heard.stream != stream)
        capture.streamBegins();
    stream = heard.stream;
    capture.allowStraying(mayStray_dB());
    capture.hold(whyNoEarphoneReading());
    capture.add(heard.estimate);
    if (const auto tone = capture.taken())
        keepCaptured(*tone);
}

void FitBench::startCapture(bool handsFree)
{
    beginAction();
    if (live.captures())
        return refuse("a reference is being taken: end that first, or wait for it");
    if (!handsFree && capture.handsFree()) { // which goes on
        if (capture.state() == FitCaptureState::lift)
            refuse("take the tone away first: the next reading begins by itself");
        return;
    }
    if (const auto why = whyNoReading(); !why.empty())
        return refuse(why);
    capture.start(handsFree);
    boundCoupler = couplerNow();
    boundChannel = live.chosen().channel;
}

void FitBench::stopCapture()
{
    beginAction();
    endCapture("");
}

void FitBench::endCapture(const std::string& notice)
{
    if (!capture.runs())
        return;
    capture.cancel();
    captureEnded = notice;
}

void FitBench::keepCaptured(const ToneSummary& tone)
{
    followBench();
    const auto before = sheetNumber;
    if (target.kind == FitKind::earphone)
        keepOfEarphone(tone);
    else
        keepOfMicrophone(tone);
    if (sheetNumber == before)
        return;
    ++shown.kept;
    sheetShown = false;
}

void FitBench::keepOfMicrophone(const ToneSummary& tone)
{
    const double level_dB = rounded(*tone.level_dBFS + zeroNow_dB(), 1e6);
    const auto others_dB = meanOf(sheet().input);
    const bool another = others_dB && std::abs(level_dB - *others_dB) > anotherScale_dB;
    const bool kept = change(fmt::format("reading {} dB", levelText(level_dB)), [&](FitSheet& next) -> std::string {
        if (auto why = whyNoReading(); !why.empty())
            return why;
        next.zero_dB = zeroNow_dB();
        FitGroup* group = groupOf(next, target);
        if (group == nullptr)
            return "that fitting is not there any more";
        FitReading reading{level_dB, {}, secondsNow(), {}, next.input.settings.calibrator};
        if (tone.frequency)
            reading.frequency = Hertz(rounded(tone.frequency->value, 1e3));
        if (another)
            reading.setAside = anotherScaleText;
        group->readings.push_back(std::move(reading));
        return {};
    });
    if (!kept)
        return;
    shown.lastKept_dB = level_dB;
    if (another)
        refuse(fmt::format("this reading is {} dB away from the others and is set aside: were those written on another "
                           "scale? Then begin a sheet of its own; else let it count again",
                           signedLevelText(level_dB - *others_dB)));
}

void FitBench::keepOfEarphone(const ToneSummary& tone)
{
    auto reading = readEarphone(tone, setupOf(target));
    if (!reading)
        return refuse("the reading was not kept: " + reading.fault().sentence);
    reading->seatedAnew = capture.seatedAnew();
    reading->at_s = secondsNow();
    const bool kept = change(fmt::format("reading {} dB of {}", levelText(reading->level_dB), inQuotes(nameOf(target))),
                             [&](FitSheet& next) -> std::string {
                                 if (auto why = whyNoReading(); !why.empty())
                                     return why;
                                 if (target.index >= next.input.earphones.size())
                                     return "that earphone is not there any more";
                                 auto& e = next.input.earphones[target.index];
                                 if (auto why = addInsertion(e, *reading); !why.empty())
                                     return why;
                                 if (reading->u_seating_dB > 0.0)
                                     next.input.settings.u_seating_dB = reading->u_seating_dB;
                                 return {};
                             });
    if (!kept)
        return;
    shown.lastKept_dB = reading->level_dB;
    if (const auto differ_dB = insertionsDiffer_dB(sheet().input.earphones[target.index]))
        refuse(fmt::format("the insertions of {} differ by {} dB: insert and read it again, and set the one aside that "
                           "was not seated",
                           inQuotes(nameOf(target)), levelText(*differ_dB)));
}

// The readings that were written down lie on a scale on which the bench's own calibrator, which plays through the
// coupler, reads as those through the coupler do.
void FitBench::fillFromSimulation()
{
    beginAction();
    if (!wasSimulated)
        return refuse("switch the simulated bench on first: these readings belong to it");
    const auto scenario = demoScenario();
    const bool filled = change("the simulated bench's readings", [&](FitSheet& next) {
        next.input = fitOnPaper(scenario);
        const double tone_dBFS = scenario.calibrator.certified_dBSPL - scenario.correction_dB - scenario.offset_dB;
        next.certified_dB = scenario.calibrator.certified_dBSPL;
        next.noCalibrator = false;
        next.coupler = couplerNow();
        next.zero_dB = rounded(*meanOf({{}, next.input.through, {}, {}}) - tone_dBFS, 100.0);
        return std::string();
    });
    if (filled)
        moveTo({});
}

} // namespace couplet
