// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReferenceHistory.h"

#include "Bench/ChainHistory.h"
#include "Library/IsoTime.h"
#include "Library/Utf8.h"
#include "Metrology/Expanded.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double secondsPerHour = 3600.0, secondsPerDay = 86400.0;
constexpr std::size_t longestReason = 120; // bytes
constexpr double shown_dB = 0.005;         // less is not seen in two decimals

std::optional<double> days(const std::string& time)
{
    const auto instant = instantFrom(time);
    if (!instant)
        return {};
    return std::chrono::duration<double>(instant->time_since_epoch()).count() / secondsPerDay;
}

HistoryPoint pointOf(const Reference& r, const Reference* current)
{
    HistoryPoint p;
    p.takenAt = r.takenAt;
    p.offset_dB = r.offset_dB;
    if (r.missing.empty() && !r.budget.empty())
        p.U_dB = expand(r.budget).U_dB;
    p.tone_dBFS = r.tone_dBFS;
    p.calibrator = r.calibrator;
    p.source = r.source;
    p.fitToUse = r.fitToUse;
    p.setAside = r.setAside;
    p.current = &r == current;
    p.chain_dB = r.offset_dB;
    p.correction_dB = r.takenOff_dB();
    p.moved_dB = r.moved_dB;
    return p;
}

void showAge(ReferenceHistory& history, const Coupler& coupler, const std::string& now)
{
    const Reference* current = coupler.current();
    if (current == nullptr)
        return;
    history.age_s = ageOf_s(*current, now);
    const double allowed_s = coupler.allowedAge_h * secondsPerHour;
    if (const auto taken = instantFrom(current->takenAt))
        history.due = textOf(*taken + std::chrono::milliseconds(static_cast<std::int64_t>(
                                          std::min(1e3 * allowed_s, 1e3 * secondsPerDay * 36525.0))));
    if (!history.age_s)
        return;
    const double left_s = allowed_s - *history.age_s;
    history.stale = isStale(*current, coupler, now);
    if (*history.age_s < -clocksDiffer_s) {
        history.dueText = "its age is not known: take a new reference";
        history.notes.emplace_back("the last reference was taken in the future: was a clock put right since?");
        return;
    }
    history.dueText = history.stale ? "stale for " + durationText(-left_s) + ": take a new reference"
                                    : "due in " + durationText(left_s);
}

void noteDrift(ReferenceHistory& history, const Coupler& coupler)
{
    const auto& drift = history.chart.drift;
    if (!drift || !drift->isReal())
        return;
    history.notes.push_back(fmt::format("the offset drifts by {} \u00b1{:.4f} dB a day: is the microphone or its bias "
                                        "voltage ageing, or the calibrator?",
                                        signedText(drift->dBPerDay, 4), roundedUpward(drift->U_dBPerDay, 4)));
    const double within_dB = std::abs(drift->dBPerDay) * coupler.allowedAge_h * secondsPerHour / secondsPerDay;
    const double judged_dB = coupler.judged.drift_dB.value_or(assumedDrift_dB);
    if (within_dB > judged_dB)
        history.notes.push_back(
            fmt::format("within the allowed {:g} h that comes to {:.2f} dB, more than the {:.2f} dB "
                        "of the budget's 'drift since': allow less, or set the term",
                        coupler.allowedAge_h, within_dB, judged_dB));
}

// Why there is no drift where there are points enough, and since when the limits count.
void noteStep(ReferenceHistory& history)
{
    const auto& points = history.points;
    const auto begin = std::find_if(points.begin(), points.end(), [](const HistoryPoint& p) { return !p.beforeStep; });
    if (begin != points.begin() && begin != points.end() && begin->moved_dB)
        history.notes.push_back(fmt::format("the reference of {} was kept although it had moved by {} dB: mean, limits "
                                            "and drift count from it on",
                                            begin->takenAt, signedLevelText(*begin->moved_dB)));
    if (history.chart.counted >= enoughForLimits && !history.chart.drift)
        history.notes.push_back(
            fmt::format("no drift is stated: the references cover less than {:g} days", enoughForDrift_days));
}

void noteCorrections(ReferenceHistory& history)
{
    const auto others = std::count_if(history.points.begin(), history.points.end(), [](const HistoryPoint& p) {
        return std::abs(p.chain_dB - p.offset_dB) >= shown_dB;
    });
    if (others > 0)
        history.notes.push_back(fmt::format("{} of the references {} taken with another correction than the one in "
                                            "force: mean, limits and drift judge the chain, as if all had been taken "
                                            "with the same",
                                            others, others == 1 ? "was" : "were"));
}

} // namespace

std::string durationText(double seconds)
{
    const auto text = [](double count, const char* unit, const char* units) {
        const double whole = std::floor(count);
        return fmt::format("{:.0f} {}", whole, whole == 1.0 ? unit : units);
    };
    if (seconds < 60.0)
        return "less than a minute";
    if (seconds < secondsPerHour)
        return text(seconds / 60.0, "min", "min");
    if (seconds < 2.0 * secondsPerDay)
        return text(seconds / secondsPerHour, "h", "h");
    return text(seconds / secondsPerDay, "day", "days");
}

ReferenceHistory historyOf(const Coupler& coupler, const std::string& now)
{
    ReferenceHistory history;
    std::vector<ChartPoint> points;
    const Reference* like = coupler.current();
    if (like == nullptr && !coupler.references.empty())
        like = &coupler.references.back();
    const std::size_t begin = runBegin(coupler.references);
    const Reference* current = coupler.current();
    for (std::size_t i = 0; i < coupler.references.size(); ++i) {
        const Reference& r = coupler.references[i];
        HistoryPoint& point = history.points.emplace_back(pointOf(r, current));
        point.chain_dB = offsetAs_dB(r, *like);
        point.beforeStep = i < begin;
        points.push_back({days(r.takenAt), point.chain_dB, point.counts(), false, point.beforeStep});
    }
    history.chart = controlChart(std::move(points));
    for (std::size_t i = 0; i < history.points.size(); ++i)
        history.points[i].outside = history.chart.points[i].outside;
    showAge(history, coupler, now);
    noteDrift(history, coupler);
    noteStep(history);
    noteCorrections(history);
    return history;
}

Outcome<Done> setAside(Coupler& coupler, std::size_t index, const std::string& reason)
{
    if (index >= coupler.references.size())
        return Fault{fmt::format("'{}' has {} references and no {}th: choose one of them", coupler.name,
                                 coupler.references.size(), index + 1)};
    Reference& reference = coupler.references[index];
    if (reason.size() > longestReason || !charactersOf(reason) ||
        std::any_of(reason.begin(), reason.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; }))
        return Fault{fmt::format("the reason must be one line of at most {} characters: shorten it", longestReason)};
    if (reference.setAside == reason)
        return Fault{reason.empty() ? fmt::format("the reference of {} was not set aside", reference.takenAt)
                                    : fmt::format("the reference of {} is set aside already", reference.takenAt)};
    reference.setAside = reason;
    return Done{};
}

Outcome<Done> setAside(Coupler& coupler, const std::string& takenAt, const std::string& reason)
{
    std::optional<std::size_t> found;
    for (std::size_t i = coupler.references.size(); i-- > 0;)
        if (const Reference& r = coupler.references[i];
            r.takenAt == takenAt && (!found || r.setAside.empty() != reason.empty())) {
            found = i;
            if (r.setAside.empty() != reason.empty())
                break;
        }
    if (found)
        return setAside(coupler, *found, reason);
    if (coupler.references.empty())
        return Fault{fmt::format("'{}' has no references", coupler.name)};
    return Fault{fmt::format("'{}' has no reference of {}; the last is of {}, and --history shows them all",
                             coupler.name, takenAt, coupler.references.back().takenAt)};
}

std::vector<std::string> cannotBeKnown(const Coupler& coupler, const Calibrator& calibrator, const BenchNow& now)
{
    std::vector<std::string> said;
    const Reference* r = coupler.current();
    if (r != nullptr && now.sampleRate_Hz > 0.0 && r->sampleRate_Hz > 0.0 && r->sampleRate_Hz != now.sampleRate_Hz)
        said.push_back(fmt::format("The sample rate was {:g} Hz at the reference and is {:g} Hz: whether the input's "
                                   "gain stayed the same cannot be known; take a new reference.",
                                   r->sampleRate_Hz, now.sampleRate_Hz));
    if (r != nullptr && r->channel != now.channel)
        said.push_back(
            fmt::format("The reference was taken on channel {}, this is channel {}: each input has a gain of "
                        "its own.",
                        r->channel, now.channel));
    if (r != nullptr && !calibrator.name.empty() && r->calibrator != calibrator.name)
        said.push_back(fmt::format("The last reference was taken with '{}': a change may be the calibrators' own.",
                                   r->calibrator));
    if (!calibrator.due.empty() && !now.today.empty() && calibrator.due.substr(0, 10) < now.today.substr(0, 10))
        said.push_back(fmt::format("The calibrator's certificate was due on {}: whether its level still holds is not "
                                   "certified.",
                                   calibrator.due.substr(0, 10)));
    said.push_back("A gain that is set on the device or in its mixer cannot be seen by software" +
                   (coupler.gainNote.empty() ? std::string(": note its position, and keep it.")
                                             : fmt::format("; noted is '{}'.", coupler.gainNote)));
    said.emplace_back(
        "Which device the audio comes from cannot be seen from here: after a change of device, take a new "
        "reference.");
    return said;
}

} // namespace couplet
