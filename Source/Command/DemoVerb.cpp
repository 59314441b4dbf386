// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitJson.h"
#include "Bench/FitKeeping.h"
#include "Bench/Reading.h"
#include "Bench/ReadingJson.h"
#include "Bench/ReferenceTaking.h"
#include "Bench/SimulatedFit.h"
#include "Bench/SimulatedPapers.h"
#include "Bench/StretchFinder.h"
#include "Command/BenchText.h"
#include "Command/Verb.h"
#include "Library/Folder.h"
#include "Quantities/QuantityText.h"
#include "Signal/Analyser.h"
#include "Simulation/SimulatedBench.h"

#include <fmt/format.h>

#include <array>
#include <filesystem>

namespace couplet {
namespace {

constexpr double sampleRate_Hz = 48000.0;
constexpr std::uint64_t seed = 20260503; // any: it makes the noise the same each time
constexpr double referenceTake_s = 10.0; // the simulated seat wanders with this period: its mean is the truth
constexpr double earphoneTake_s = 10.0;
constexpr int block = 480;

// What the bench's interface would deliver, through the same analysis as a take.
ToneSummary listen(SimulatedBench& bench, double seconds)
{
    Analyser analyser(sampleRate_Hz);
    StretchFinder stretch;
    std::array<float, block> microphone{}, drive{};
    while (!bench.settled())
        bench.render(microphone, drive);
    for (int i = 0; i < static_cast<int>(seconds * sampleRate_Hz / block); ++i) {
        bench.render(microphone, drive);
        analyser.add(microphone.data(), drive.data(), block, [&](const Estimate& e) { stretch.add(e); });
    }
    return stretch.summary();
}

class Demo
{
public:
    explicit Demo(std::filesystem::path out) : directory(std::move(out)), folder(directory / "library") {}

    Outcome<Answer> run(bool json)
    {
        if (const auto done = stock(); !done)
            return done.fault();
        if (const auto done = findCorrection(); !done)
            return done.fault();
        if (const auto done = reference(); !done)
            return done.fault();
        for (std::size_t i = 0; i < scenario.earphones.size(); ++i)
            for (const Side side : {Side::left, Side::right})
                if (const auto done = read(i, side); !done)
                    return done.fault();
        text += fmt::format("library and readings   {}\n", folder.path().string());
        report.push_back({"library", folder.path().string()});
        report.push_back({"readings", readings});
        return Answer{json ? printedJson(report, JsonLayout::line) + "\n" : text, status};
    }

private:
    // What a demo wrote may be written again, and its references and readings pile up as on a real bench; anybody
    // else's library is left alone.
    Outcome<Done> stock()
    {
        for (const Item& item : folder.list().items)
            if (!std::visit([](const auto& i) { return isSimulated(i); }, item))
                return Fault{fmt::format("--out: {} holds a library that is not the demo's ('{}'); name another folder",
                                         folder.path().string(), nameOf(item))};
        coupler = couplerOnPaper(scenario);
        calibrator = calibratorOnPaper(scenario);
        if (const auto done = folder.save(calibrator); !done)
            return done;
        for (std::size_t i = 0; i < scenario.earphones.size(); ++i) {
            Earphone earphone = earphoneOnPaper(scenario, i);
            earphone.choseCorrectionOf.clear(); // who chooses it is seen below
            if (const auto done = folder.save(earphone); !done)
                return done;
        }
        return Done{};
    }
    // From four fittings and the earphones that are not kept aside; these bear a mark from now on.
    Outcome<Done> findCorrection()
    {
        const FitInput input = fitOnPaper(scenario);
        const auto fit = fitCorrection(input);
        if (!fit)
            return fit.fault();
        coupler.correction = correctionFrom(input, *fit, timeNow());
        if (const auto notes = keepCorrection(folder, coupler, *coupler.correction, *fit); !notes)
            return notes.fault();
        report.push_back({"fit", jsonOf(input, *fit)});
        return Done{};
    }
    template <class T> static bool isSimulated(const T& item)
    {
        if constexpr (requires { item.simulated; })
            return item.simulated;
        else
            return false;
    }

    Outcome<Done> reference()
    {
        if (!bench.put({OnCoupler::What::calibrator, 0, Side::left, {}}))
            return Fault{"the scenario's calibrator cannot be put on the simulated coupler"};
        ReferenceSetup setup;
        setup.coupler = coupler;
        setup.calibrator = calibrator;
        setup.now = timeNow();
        setup.source = "simulated bench";
        const auto taken = takeReference(listen(bench, referenceTake_s), setup);
        if (!taken)
            return taken.fault();
        if (!taken->offset || !taken->fitToUse)
            return Fault{"the simulated calibrator's tone was not fit to use: " +
                         (taken->notes.empty() ? std::string("no reason given") : taken->notes.front())};
        coupler.references.push_back(taken->kept(setup));
        if (const auto done = folder.save(coupler); !done)
            return done;
        text += fmt::format("reference    offset {}   dB SPL at 0 dBFS   {}, {} dB at {}\n",
                            withUncertainty(taken->offset->level_dB, taken->expanded), calibrator.name,
                            levelText(taken->certified.level_dB), nominalFrequencyText(taken->certified.frequency));
        text +=
            fmt::format("correction   {} {}   dB taken by the coupler   {}\n", levelText(coupler.correction->value_dB),
                        uncertaintyText(*coupler.correction->U_dB), coupler.correction->origin);
        report.push_back({"reference", jsonOf(*taken)});
        report.push_back({"correction", JsonObject{{"value_db", coupler.correction->value_dB},
                                                   {"expanded_uncertainty_db", *coupler.correction->U_dB},
                                                   {"origin", coupler.correction->origin}}});
        return Done{};
    }

    Outcome<Done> read(std::size_t index, Side side)
    {
        if (!bench.put({OnCoupler::What::earphone, index, side, {}}))
            return Fault{"the scenario's earphone cannot be put on the simulated coupler"};
        Setup setup;
        setup.coupler = coupler;
        const auto earphone = folder.earphone(earphoneOnPaper(scenario, index).name);
        if (!earphone)
            return earphone.fault();
        setup.earphone = *earphone;
        setup.side = side == Side::left ? "left" : "right";
        setup.drive = driveOnPaper(scenario, index);
        setup.now = timeNow();
        const Reading reading = makeReading(listen(bench, earphoneTake_s), setup);
        text += lineOf(reading);
        if (reading.answersNo())
            status = 1;
        JsonObject record = jsonOf(reading);
        readings.push_back(record);
        JsonObject kept{{"kind", "reading"}, {"version", 1}, {"taken_at", setup.now}, {"source", "simulated bench"}};
        for (auto& field : record)
            kept.push_back(std::move(field));
        return folder.appendReading(printedJson(kept, JsonLayout::line));
    }

    std::filesystem::path directory;
    Folder folder;
    Scenario scenario = demoScenario();
    SimulatedBench bench{scenario, sampleRate_Hz, seed};
    Coupler coupler;
    Calibrator calibrator;
    std::string text;
    JsonObject report;
    JsonList readings;
    int status = 0;
};

} // namespace

Outcome<Answer> runDemo(const Arguments& arguments)
{
    const std::string* out = arguments.value("out");
    return Demo(out != nullptr ? *out : "couplet-demo").run(arguments.has("json"));
}

} // namespace couplet
