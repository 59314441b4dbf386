// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of FitBench that keeps a sheet's calibrator and uncertainties.
#include "Plugin/FitBench.h"

#include "Bench/SimulatedPapers.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {

// What the Reference page would take: the last reference's, or the only one there is.
std::optional<Calibrator> FitBench::likelyCalibrator() const
{
    const auto& coupler = live.chosen().coupler;
    const Reference* last = coupler ? coupler->current() : nullptr;
    auto likely = last != nullptr ? calibrator(last->calibrator) : std::nullopt;
    if (!likely && calibrators.size() == 1 && !wasSimulated)
        likely = calibrators.front();
    return likely;
}

// A sheet begins with a calibrator; one that has begun without is given none unseen.
void FitBench::adoptCalibrator(FitSheet& next) const
{
    if (!next.isNew())
        return;
    if (const auto likely = likelyCalibrator())
        takeCalibrator(next, *likely);
}

// The library has other calibrators now: a sheet that has begun waits for one, unless none was chosen.
void FitBench::adoptNewCalibrator()
{
    FitSheet& now = papers().sheet;
    if (wasSimulated || now.isNew() || now.noCalibrator || !now.input.settings.calibrator.empty())
        return;
    const auto likely = likelyCalibrator();
    if (!likely)
        return;
    takeCalibrator(now, *likely);
    sheetChanged();
    out.keepSheet(now);
}

std::optional<Calibrator> FitBench::calibrator(const std::string& name) const
{
    if (wasSimulated) {
        const auto paper = calibratorOnPaper(demoScenario());
        return name == paper.name ? std::optional(paper) : std::nullopt;
    }
    const auto found =
        std::find_if(calibrators.begin(), calibrators.end(), [&](const Calibrator& c) { return c.name == name; });
    return found != calibrators.end() ? std::optional(*found) : std::nullopt;
}

void FitBench::takeCalibrator(FitSheet& next, const Calibrator& chosen) const
{
    constexpr double coverage = 2.0; // of a certificate
    const auto& tone = chosen.nearest(capture.tone().frequency.value_or(Hertz(1000.0)));
    auto& settings = next.input.settings;
    settings.calibrator = chosen.name;
    next.noCalibrator = false;
    settings.frequency = tone.frequency;
    settings.u_calibrator_dB = tone.U_dB ? std::optional(*tone.U_dB / coverage) : std::nullopt;
    next.certified_dB = tone.level_dB;
}

void FitBench::chooseCalibrator(const std::string& name)
{
    if (name.empty()) {
        change("no calibrator", [](FitSheet& next) {
            auto& settings = next.input.settings;
            settings.calibrator.clear();
            settings.frequency.reset();
            settings.u_calibrator_dB.reset();
            next.certified_dB.reset();
            next.noCalibrator = true;
            return std::string();
        });
        return;
    }
    change("calibrator " + inQuotes(name), [&](FitSheet& next) -> std::string {
        const auto chosen = calibrator(name);
        if (!chosen)
            return fmt::format("there is no calibrator {} in the library; choose another", inQuotes(name));
        takeCalibrator(next, *chosen);
        return {};
    });
}

void FitBench::setBuiltIn(bool builtIn)
{
    change(builtIn ? "the microphone is built in" : "the microphone leaves its coupler", [&](FitSheet& next) {
        next.input.settings.microphoneBuiltIn = builtIn;
        return std::string();
    });
}

void FitBench::setUncertainties(double u_transfer_dB, double u_adapter_dB)
{
    constexpr double most_dB = 3.0;
    const auto usable = [](double u) { return u >= 0.0 && u <= most_dB; };
    change("the uncertainties", [&](FitSheet& next) -> std::string {
        if (!usable(u_transfer_dB) || !usable(u_adapter_dB))
            return fmt::format("an uncertainty must be within 0 to {:g} dB; correct it", most_dB);
        next.input.settings.u_transfer_dB = u_transfer_dB;
        next.input.settings.u_adapter_dB = u_adapter_dB;
        return {};
    });
}

} // namespace couplet
