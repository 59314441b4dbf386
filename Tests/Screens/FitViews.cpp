// SPDX-License-Identifier: GPL-3.0-or-later
//
// Views of the Fit page whose results the engine works out.
#include "FitStates.h"

#include "Bench/FitEarphones.h"
#include "Bench/ReadingsTable.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace couplet {
namespace {

constexpr std::size_t silicone = 3;
constexpr double certified_dB = 114.02;

} // namespace

FitInput sketchedReadings()
{
    auto input = readReadingsTable(std::string(COUPLET_TESTS_DIR) + "/Fuzz/corpus/readings/scenario.csv");
    if (!input)
        throw std::runtime_error(input.fault().sentence);
    input->settings.u_calibrator_dB = 0.075;
    double at_s = 0.0;
    for (auto& fitting : input->fittings)
        for (auto& reading : fitting.readings)
            reading.at_s = at_s += 35.0;
    for (auto& reading : input->through.readings)
        reading.at_s = at_s += 35.0;
    return *input;
}

FitView sketchedFit()
{
    FitView view;
    view.coupler = "Ear simulator, left bench";
    view.calibrators = {"Calibrator 114.02 dB", "Old pistonphone"};
    view.calibrator = view.calibrators.front();
    view.certified_dB = certified_dB;
    view.earphones = {"earphone P", "earphone Q", "earphone R", "earphone S"};
    view.target = {FitKind::fitting, silicone};
    view.canUndo = true;
    view.undoText = "Undo: reading 114.77 dB";
    Correction stored;
    stored.value_dB = 1.21;
    stored.U_dB = 0.6;
    view.stored = stored;
    return fitOf(sketchedReadings(), view);
}

FitView fitOf(FitInput input, const FitView& from)
{
    FitView view = from;
    const auto fit = fitCorrection(input);
    view.input = std::move(input);
    view.fit.reset();
    view.words = {};
    view.whyNot.clear();
    view.whyNotUse.clear();
    if (fit) {
        view.fit = *fit;
        view.words = wordsOf(view.input, *fit, view.certified_dB);
        view.canUse = fit->hasUncertainty();
        if (!view.canUse)
            view.whyNotUse = "It is not to be used: " + whyNoUncertainty(*fit) + ".";
    }
    else {
        view.whyNot = fit.fault().sentence;
        view.canUse = false;
        view.whyNotUse = view.whyNot;
    }
    ++view.revision;
    return view;
}

FitView manyFit(std::size_t fittings, std::size_t earphones, std::size_t readings)
{
    FitInput input;
    input.settings.u_calibrator_dB = 0.075;
    const auto wave = [](std::size_t i) { return std::sin(12.9898 * static_cast<double>(i)); };
    for (std::size_t i = 0; i < fittings; ++i) {
        FitGroup group;
        group.name = fmt::format("fitting {}", i + 1);
        const std::size_t count = std::max<std::size_t>(2, readings / (fittings + 1));
        for (std::size_t r = 0; r < count; ++r)
            group.readings.push_back({114.8 + 0.01 * static_cast<double>(i) + 0.05 * wave(97 * i + r), {}, {}, {}, {}});
        input.fittings.push_back(std::move(group));
    }
    for (std::size_t r = 0; r < std::max<std::size_t>(2, readings / (fittings + 1)); ++r)
        input.through.readings.push_back({113.3 + 0.03 * wave(r), {}, {}, {}, {}});
    for (std::size_t i = 0; i < earphones; ++i)
        input.earphones.push_back(
            {fmt::format("earphone {}", i + 1), 96.0 + 0.5 * wave(i), 94.5, 1.0, 0.12, i % 7 == 6, {}});
    FitView from = sketchedFit();
    from.target = {FitKind::fitting, 0};
    return fitOf(std::move(input), from);
}

// Put in seven times: one was not seated and is set aside, another one is odd.
FitView insertedFit()
{
    auto input = sketchedReadings();
    auto& phone = input.earphones[0];
    double at_s = 800.0;
    for (const double level_dB : {96.15, 96.19, 93.62, 96.17, 96.18, 96.16, 96.45})
        phone.insertions.push_back(
            {level_dB, {}, at_s += 41.0, phone.insertions.size() != 1, phone.expected_dB, 0.06, 0.11});
    phone.insertions[2].setAside = "the tip was not home in the coupler";
    followInsertions(phone);
    auto& other = input.earphones[1];
    other.insertions = {{93.60, {}, 1200.0, false}};
    other.u_stated_dB = other.u_dB;
    other.keptAside = true;
    followInsertions(other);
    auto& none = input.earphones[2];
    none.insertions = {{99.70, "its tip was torn", 1260.0, false}, {99.72, "its tip was torn", 1300.0, true}};
    followInsertions(none);
    auto view = fitOf(std::move(input), sketchedFit());
    view.target = {FitKind::earphone, 0};
    return view;
}

} // namespace couplet
