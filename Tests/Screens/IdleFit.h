// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/FitView.h"

#include <fmt/format.h>

#include <string>
#include <vector>

// Purpose: writes down what the Fit page asked for, and does nothing; what is typed it refuses when told to.
namespace couplet {

class IdleFit : public FitControls
{
public:
    std::vector<std::string> asked;
    FitEarphone typed;
    std::string refusal; // of whatever is typed

    void chooseFitCalibrator(const std::string& name) override { note("calibrator " + name); }
    void setMicrophoneBuiltIn(bool builtIn) override { note(builtIn ? "built in" : "leaves"); }
    std::string setFitUncertainties(double transfer, double adapter) override
    {
        return answer(fmt::format("uncertainties {:g} {:g}", transfer, adapter));
    }
    std::string addFitting(const std::string& name) override { return answer("fitting '" + name + "'"); }
    std::string renameFitting(std::size_t index, const std::string& name) override
    {
        return answer(fmt::format("rename {} {}", index, name));
    }
    void removeFitting(std::size_t index) override { note(fmt::format("remove fitting {}", index)); }
    void chooseFitTarget(const FitTarget& t) override { note("target " + words(t)); }
    void nextFitTarget() override { note("next"); }
    std::string addFitReading(const FitTarget& t, double level) override
    {
        return answer(fmt::format("reading {} {:g}", words(t), level));
    }
    std::string changeFitReading(const FitTarget& t, std::size_t reading, double level) override
    {
        return answer(fmt::format("change {} {} {:g}", words(t), reading, level));
    }
    std::string setFitReadingAside(const FitTarget& t, std::size_t reading, const std::string& reason) override
    {
        return answer(fmt::format("aside {} {} '{}'", words(t), reading, reason));
    }
    std::string addFitEarphone(const FitEarphone& e) override
    {
        typed = e;
        return answer("earphone typed " + e.name);
    }
    void addFitEarphone(const std::string& name) override { note("earphone " + name); }
    std::string changeFitEarphone(std::size_t index, const FitEarphone& e) override
    {
        typed = e;
        return answer(fmt::format("change earphone {}", index));
    }
    void removeFitEarphone(std::size_t index) override { note(fmt::format("remove earphone {}", index)); }
    void keepFitEarphoneAside(std::size_t index, bool kept) override
    {
        note(fmt::format("{} earphone {}", kept ? "keep" : "let", index));
    }
    std::string setFitEarphoneAside(std::size_t index, const std::string& reason) override
    {
        return answer(fmt::format("aside earphone {} '{}'", index, reason));
    }
    void readFitTable(const std::filesystem::path& path) override { note("file " + path.string()); }
    void pasteFitTable(const std::string& text) override { note("paste " + text); }
    void clearFit() override { note("clear"); }
    void captureFitReadings(bool on) override { note(on ? "capture" : "no capture"); }
    void takeFitReading() override { note("take"); }
    void askWhatIf(std::optional<double> wanted) override
    {
        note(wanted ? fmt::format("what if {:g}", *wanted) : "no what if");
    }
    void useCorrection() override { note("use"); }
    void useNoCorrection() override { note("use none"); }
    void fillFitFromSimulation() override { note("fill"); }
    void undoFit() override { note("undo"); }

private:
    static std::string words(const FitTarget& t)
    {
        return t.kind == FitKind::through
                   ? std::string("through")
                   : fmt::format("{} {}", t.kind == FitKind::fitting ? "fitting" : "earphone", t.index);
    }
    void note(const std::string& what) { asked.push_back(what); }
    std::string answer(const std::string& what)
    {
        note(what);
        return refusal;
    }
};

} // namespace couplet
