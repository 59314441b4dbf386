// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Coupler.h"

#include "Library/IsoTime.h"
#include "Library/Names.h"

#include <algorithm>
#include <cmath>

namespace couplet {

// The order in the history counts, not the times: a clock that was put right must not bring an old reference
// back.
const Reference* Coupler::current() const
{
    const auto counts = [](const Reference& r) { return r.fitToUse && r.setAside.empty(); };
    const auto found = std::find_if(references.rbegin(), references.rend(), counts);
    return found == references.rend() ? nullptr : &*found;
}

std::optional<double> Reference::takenOff_dB() const
{
    if (correction)
        return correction->value_dB;
    const double taken_dB = takenByCoupler_dB(addends);
    // Without a correction only a sum that begins with the calibrator tells that there was none.
    const auto isCertified = [](const Addend& a) { return a.name.rfind("certified level", 0) == 0; };
    if (taken_dB == 0.0 && std::none_of(addends.begin(), addends.end(), isCertified))
        return std::nullopt;
    return taken_dB;
}

namespace {

bool names(const Correction& correction, const std::string& earphone)
{
    const auto& all = *correction.chosenBy;
    return std::any_of(all.begin(), all.end(), [&](const auto& name) { return lookTheSame(name, earphone); });
}

bool isSame(const Correction& a, const Correction& b)
{
    return a.value_dB == b.value_dB && a.origin == b.origin && a.date == b.date;
}

} // namespace

std::optional<bool> Coupler::wasChosenBy(const std::string& earphone) const
{
    const Reference* reference = current();
    if (reference == nullptr)
        return std::nullopt;
    const auto& its = reference->correction;
    if (!its && reference->takenOff_dB() == 0.0)
        return false; // there was none to choose
    if (!its || !its->chosenBy)
        return std::nullopt;
    return names(*its, earphone) ||
           (correction && correction->chosenBy && isSame(*correction, *its) && names(*correction, earphone));
}

std::optional<double> ageOf_s(const Reference& reference, std::string_view now)
{
    const auto taken = instantFrom(reference.takenAt);
    const auto present = instantFrom(now);
    if (!taken || !present)
        return std::nullopt;
    return std::chrono::duration<double>(*present - *taken).count();
}

bool isStale(const Reference& reference, const Coupler& coupler, std::string_view now)
{
    constexpr double secondsPerHour = 3600.0;
    const auto age = ageOf_s(reference, now);
    return age && (*age > coupler.allowedAge_h * secondsPerHour || *age < -clocksDiffer_s);
}

std::string timeNow()
{
    return textOf(std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now()));
}

std::optional<double> responseAt_dB(const std::vector<ResponsePoint>& table, Hertz frequency)
{
    const auto isBelow = [](const ResponsePoint& point, Hertz f) { return point.frequency < f; };
    const auto above = std::lower_bound(table.begin(), table.end(), frequency, isBelow);
    if (above == table.end() || !std::isfinite(frequency.value))
        return std::nullopt;
    if (above->frequency == frequency)
        return above->response_dB;
    if (above == table.begin())
        return std::nullopt;
    const auto& below = *(above - 1);
    const double share = std::log(frequency / below.frequency) / std::log(above->frequency / below.frequency);
    return below.response_dB + share * (above->response_dB - below.response_dB);
}

} // namespace couplet
