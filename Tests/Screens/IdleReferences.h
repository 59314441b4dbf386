// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/ReferenceView.h"

#include <string>
#include <vector>

// Purpose: writes down what a page of references asked for, and does nothing.
namespace couplet {

class IdleReferences : public ReferenceControls
{
public:
    std::vector<std::string> asked;
    std::optional<Kilopascals> pressure;
    JudgedTerms judged;

    void chooseCalibrator(const std::string& name) override { note("calibrator " + name); }
    void chooseCalibratorLevel(std::optional<double> level_dB) override
    {
        note(level_dB ? "level " + std::to_string(*level_dB) : "any level");
    }
    void setPressure(std::optional<Kilopascals> p) override
    {
        pressure = p;
        note(p ? "pressure" : "no pressure");
    }
    void setSeatings(int count) override { note("seatings " + std::to_string(count)); }
    void setJudgedTerms(const JudgedTerms& terms) override
    {
        judged = terms;
        note("terms");
    }
    void takeReference() override { note("take"); }
    void takeReferenceHandsFree() override { note("hands-free"); }
    void hearSecondLevel() override { note("second level"); }
    void checkReference() override { note("check"); }
    void cancelReference() override { note("cancel"); }
    void finishSeatings() override { note("finish"); }
    void keepMovedReference() override { note("keep moved"); }
    void undoReference() override { note("undo"); }
    void setReferenceAside(std::size_t index, const std::string& reason) override
    {
        note("aside " + std::to_string(index) + " " + reason);
    }
    void putReferenceBack(std::size_t index) override { note("back " + std::to_string(index)); }

private:
    void note(const std::string& what) { asked.push_back(what); }
};

} // namespace couplet
