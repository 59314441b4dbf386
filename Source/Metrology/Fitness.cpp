// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Fitness.h"

#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

// Limits are inclusive; what decimal figures lose in binary must not decide.
constexpr double roundOff = 1e-9;

constexpr double aboveNoiseNeeded_dB = 30.0; // common practice, no source
constexpr double headroomNeeded_dB = 3.0;    // common practice, no source
constexpr double driftSpan_s = 3.0;          // the stretch over which a tone is called steady (method, no source)

// A tone without any noise is infinitely far above it, and passes; what is no number compares false and does
// not.
Check withReason(Check check, const std::string& reason)
{
    if (!check.passes)
        check.reason =
            std::isfinite(check.value) ? reason : "this could not be measured; let the tone play on and take it again";
    return check;
}

Check atMost(std::string name, double value, double limit, std::string unit, const std::string& reason)
{
    return withReason({std::move(name), value, limit, std::move(unit), value <= limit + roundOff, {}}, reason);
}

Check atLeast(std::string name, double value, double limit, std::string unit, const std::string& reason)
{
    return withReason({std::move(name), value, limit, std::move(unit), value >= limit - roundOff, {}}, reason);
}

// Two figures or so, however large: "0.72", "1.8", "13".
std::string percentText(double percent)
{
    const int decimals = percent < 1.0 ? 2 : percent < 10.0 ? 1 : 0;
    return fmt::format("{:.{}f} %", percent, decimals);
}

Check frequencyCheck(Hertz frequency, Hertz nominal, double limit_percent)
{
    const double off_Hz = std::abs((frequency - nominal).value);
    const double limit_Hz = nominal.value * limit_percent / 100.0;
    return withReason({fmt::format("{:.5g} Hz within {} %", nominal.value, limit_percent),
                       frequency.value,
                       limit_Hz,
                       "Hz",
                       off_Hz <= limit_Hz + roundOff,
                       {}},
                      fmt::format("the frequency is {:.1f} Hz, {} off: is the calibrator's battery low, or its switch "
                                  "at another frequency?",
                                  frequency.value, percentText(100.0 * off_Hz / nominal.value)));
}

// An even drift hides from the deviation about a mean, so that the slope is judged besides: what it comes to
// over the stretch, when it is more than its own scatter can feign. One that is no number counts, and is then
// named as such.
bool drifts(double drift_dB, const ToneFacts& tone, double limit_dB)
{
    const bool withinLimit = drift_dB <= limit_dB + roundOff;
    const bool withinScatter = std::abs(tone.slope_dBPerSecond) <= 2.0 * tone.slopeU_dBPerSecond;
    return !withinLimit && !withinScatter;
}

Check steadyCheck(const ToneFacts& tone, double limit_dB)
{
    const auto name = fmt::format("steady within {} dB", limit_dB);
    const double drift_dB = std::abs(tone.slope_dBPerSecond) * driftSpan_s;
    if (drifts(drift_dB, tone, limit_dB))
        return withReason({name, std::max(drift_dB, tone.steadiness_dB), limit_dB, "dB", false, {}},
                          fmt::format("the level moves evenly by {} dB/s: is the calibrator slipping from its "
                                      "seat, or a battery or the microphone's bias voltage running down?",
                                      signedText(tone.slope_dBPerSecond, 3)));
    return atMost(name, tone.steadiness_dB, limit_dB, "dB",
                  fmt::format("the level strays by {:.2f} dB: seat the calibrator fully, keep it still and check its "
                              "battery",
                              tone.steadiness_dB));
}

// Hum that makes up half of what is not the tone is what has to be mended.
bool isMostlyHum(const ToneFacts& tone)
{
    if (!tone.humBelowTone_dB)
        return false;
    const double hum_percent = 100.0 * ratioFrom_dB(-*tone.humBelowTone_dB);
    return hum_percent * hum_percent > 0.5 * tone.distortionAndNoise_percent * tone.distortionAndNoise_percent;
}

Check distortionCheck(const ToneFacts& tone, double limit_percent)
{
    const double distortion_percent = tone.distortionAndNoise_percent;
    const auto name = fmt::format("distortion below {} %", limit_percent);
    if (isMostlyHum(tone))
        return atMost(name, distortion_percent, limit_percent, "%",
                      fmt::format("hum is only {:.1f} dB below the tone, and makes distortion and noise {}: part the "
                                  "cables from mains leads and look for a second way to earth",
                                  *tone.humBelowTone_dB, percentText(distortion_percent)));
    return atMost(name, distortion_percent, limit_percent, "%",
                  fmt::format("distortion and noise come to {}: lower the input's gain, keep the room quiet or check "
                              "the calibrator's battery",
                              percentText(distortion_percent)));
}

std::vector<Check> classChecks(const ToneFacts& tone, std::optional<int> calibratorClass, Hertz nominal)
{
    const auto limits = calibratorLimits(calibratorClass, nominal);
    if (!limits) {
        const auto name = calibratorClass ? fmt::format("class {} has limits here", *calibratorClass)
                                          : std::string("unknown class, held to class 2, has limits here");
        return {{name, nominal.value, 1250.0, "Hz", false,
                 fmt::format("there are no limits for this calibrator at {}; play 250 Hz or 1 kHz, or state its class",
                             nominalFrequencyText(nominal))}};
    }
    return {frequencyCheck(tone.frequency, nominal, limits->frequency_percent),
            steadyCheck(tone, limits->fluctuation_dB), distortionCheck(tone, limits->distortion_percent)};
}

} // namespace

std::vector<Check> fitnessChecks(const ToneFacts& tone, std::optional<int> calibratorClass, Hertz nominal,
                                 double needed_s)
{
    auto checks = classChecks(tone, calibratorClass, nominal);
    checks.push_back(atLeast(fmt::format("{:.0f} dB above the noise", aboveNoiseNeeded_dB), tone.aboveNoise_dB,
                             aboveNoiseNeeded_dB, "dB",
                             fmt::format("the tone is only {:.1f} dB above the noise: raise the input's gain, seat the "
                                         "calibrator or keep the room quiet",
                                         tone.aboveNoise_dB)));
    checks.push_back(atLeast(fmt::format("headroom, {:.0f} dB", headroomNeeded_dB), tone.headroom_dB, headroomNeeded_dB,
                             "dB",
                             fmt::format("only {:.1f} dB are left to full scale: lower the input's gain, and take "
                                         "every reference of this coupler anew",
                                         tone.headroom_dB)));
    checks.push_back(atMost("not clipped", static_cast<double>(tone.clippedSamples), 0.0, "",
                            fmt::format("{} samples are clipped: lower the input's gain, and take every reference of "
                                        "this coupler anew",
                                        tone.clippedSamples)));
    checks.push_back(atLeast(fmt::format("undisturbed for {:.3g} s", needed_s), tone.steadyFor_s, needed_s, "s",
                             fmt::format("the longest undisturbed stretch is {:.1f} s: keep the calibrator still until "
                                         "{:.3g} s have passed",
                                         tone.steadyFor_s, needed_s)));
    return checks;
}

bool allPass(const std::vector<Check>& checks)
{
    return std::all_of(checks.begin(), checks.end(), [](const Check& check) { return check.passes; });
}

Conformance conformance(double deviation_dB, double lower_dB, double upper_dB, double U_dB, double largestU_dB)
{
    const bool within = deviation_dB >= lower_dB - roundOff && deviation_dB <= upper_dB + roundOff;
    const bool certain = U_dB <= largestU_dB + roundOff;
    if (within)
        return certain ? Conformance::conforms : Conformance::uncertaintyTooLarge;
    return certain ? Conformance::deviationOut : Conformance::both;
}

} // namespace couplet
