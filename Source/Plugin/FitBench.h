// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/FitSheet.h"
#include "Bench/PastedReadings.h"
#include "Plugin/FitUse.h"
#include "Plugin/FitWorker.h"
#include "Plugin/LiveBench.h"

#include <array>
#include <cstdint>
#include <deque>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

// Purpose: the readings of a fit on the message thread: written down, captured, undone, worked out by the worker, and
//          the correction asked to be kept. The real bench's sheet is the session's; the simulated bench has one of its
//          own, which ends with the program.
// Rules:   a sheet is of one coupler, that was chosen when its first reading went in: while another is chosen none is
//          added, for they would mix. Where it is not known which, or the chosen one is another, a correction is kept
//          in the chosen one only when asked twice.
//          While a capture runs the coupler need not stand: readings of the calibrator need none, and an earphone's
//          takes the reference in force when it is complete. But another coupler, bench or channel ends the capture,
//          for what sounds is then another thing.
// Units:   as FitView.
// Errors:  one sentence each, in the view.
// Thread:  message; it may be made and end on any but audio.
namespace couplet {

class FitBench
{
public:
    struct Outside
    {
        std::function<void(const FitSheet&)> keepSheet; // in the session
        std::function<void(const FitUse&)> use;         // answered by `used`, at once or later
    };
    FitBench(const LiveBench& bench, Outside outside) : live(bench), out(std::move(outside)) {}

    void know(const Folder::Listing&); // the library
    void add(const Heard&);
    void adopt(const FitSheet&); // another session
    void renameCoupler(const std::string& from, const std::string& to);
    void endCapture(const std::string& notice); // if one runs
    bool captures() const { return capture.runs(); }
    // Takes what the worker has found; true when there is something to show.
    bool settle();
    void update();
    const FitView& view() const { return shown; }

    // As FitControls has them.
    void chooseCalibrator(const std::string& name);
    void setBuiltIn(bool);
    void setUncertainties(double u_transfer_dB, double u_adapter_dB);
    void addFitting(const std::string& name);
    void renameFitting(std::size_t index, const std::string& name);
    void removeFitting(std::size_t index);
    void chooseTarget(const FitTarget&);
    void nextTarget();
    void addReading(const FitTarget&, double level_dB);
    void changeReading(const FitTarget&, std::size_t reading, double level_dB);
    void setReadingAside(const FitTarget&, std::size_t reading, const std::string& reason);
    void addEarphone(const FitEarphone&);
    void changeEarphone(std::size_t index, const FitEarphone&);
    void addEarphone(const std::string& nameInLibrary);
    void removeEarphone(std::size_t index);
    void keepEarphoneAside(std::size_t index, bool);
    void setEarphoneAside(std::size_t index, const std::string& reason);
    void takeTable(Outcome<FitInput>);
    void takePasted(const Outcome<PastedReadings>&);
    void clear();
    void startCapture(bool handsFree);
    void stopCapture();
    void askWhatIf(std::optional<double> wantedU_dB);
    void use();
    void useNone();
    void fillFromSimulation();
    void undo();
    void used(FitUsed);

private:
    struct Step // that can be undone: back to a sheet, or to a correction
    {
        std::string text;
        std::optional<FitSheet> sheet;
        std::optional<FitUse> use;
    };
    struct Papers
    {
        FitSheet sheet;
        std::deque<Step> steps;
    };
    // Changes a sheet; a sentence where it cannot, and then nothing is changed.
    using Edit = std::function<std::string(FitSheet&)>;

    bool simulated() const { return live.chosenSettings().audio.simulated.has_value(); }
    Papers& papers() { return both[wasSimulated ? 1 : 0]; }
    const Papers& papers() const { return both[wasSimulated ? 1 : 0]; }
    const FitSheet& sheet() const { return papers().sheet; }
    bool change(const std::string& text, const Edit&);
    void pushStep(Step);
    void sheetChanged();
    void refuse(const std::string& why);
    void followBench();
    void beginAction(); // of the user: what was said of the one before is no news
    std::optional<Calibrator> calibrator(const std::string& name) const;
    std::optional<Calibrator> likelyCalibrator() const;
    void adoptCalibrator(FitSheet&) const;
    void adoptNewCalibrator();
    void takeCalibrator(FitSheet&, const Calibrator&) const;
    FitGroup* groupOf(FitSheet&, const FitTarget&) const;
    void putEarphone(const FitEarphone&);
    std::string faultOf(const FitEarphone&, const std::vector<FitEarphone>& others) const;
    void takeColumn(const std::vector<double>& levels_dB);
    bool isTarget(const FitTarget&) const;
    void moveTo(const FitTarget&);
    void followRemoval(const FitTarget& removed);
    void findTargetAgain(const std::string& name, const FitInput& before);
    std::string nameOf(const FitTarget&) const;
    std::string newFittingName(const FitSheet&) const;
    std::string couplerNow() const;   // empty: none is chosen
    bool isOfAnother() const;         // the readings are of a coupler that is not the chosen one
    std::string whyNoReading() const; // empty: one may be added
    std::string whyAskedTwice() const;
    std::size_t readingsOf(const FitTarget&) const;
    void keepCaptured(const ToneSummary&);
    void keepOfMicrophone(const ToneSummary&);
    void keepOfEarphone(const ToneSummary&);
    Setup setupOf(const FitTarget&) const;
    double zeroNow_dB() const;
    double mayStray_dB() const;
    std::string whyNoEarphoneReading() const;
    std::optional<double> asReading_dB(const ToneSummary&) const;
    std::string whyNotUse() const;
    static std::string countText(std::size_t);
    std::optional<Earphone> earphoneNamed(const std::string&) const; // with a complete rating
    std::optional<Drive> driveNow() const;                           // on the bench; absent: not known
    void showChosen();
    void showPromises();
    void showFit();
    void showCapture();
    void showUse();

    const LiveBench& live;
    Outside out;
    std::vector<Calibrator> calibrators;
    std::vector<Earphone> earphones; // with complete ratings
    std::array<Papers, 2> both;      // real, simulated
    bool wasSimulated = false;
    std::uint64_t sheetNumber = 0;
    bool sheetShown = false;

    FitWorker worker;
    std::shared_ptr<const FitAnswer> answer, answerShown;
    std::uint64_t wish = 1;
    std::optional<double> wantedU_dB;

    FitCapture capture;
    std::uint32_t stream = 0;
    FitTarget target;
    std::string boundCoupler;
    int boundChannel = 1;
    std::string captureEnded;
    bool keeps = false;   // a correction, until that is done
    std::string askedFor; // a coupler: whether readings of another are to give its correction
    FitView shown;
};

} // namespace couplet
