// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Fuzz/Finite.h"

#include <cmath>

namespace couplet::fuzz {
namespace {

class Search
{
public:
    void operator()(const char* name, double value)
    {
        if (found.empty() && !std::isfinite(value))
            found = name;
    }
    void operator()(const char* name, const std::optional<double>& value)
    {
        if (value)
            (*this)(name, *value);
    }
    template <class Unit>
    requires requires(Unit u) { u.value; }
    void operator()(const char* name, const std::optional<Unit>& value)
    {
        if (value)
            (*this)(name, value->value);
    }
    void operator()(const char* name, const std::optional<Figure>& figure)
    {
        if (!figure)
            return;
        (*this)(name, figure->level_dB);
        for (const auto& addend : figure->addends)
            (*this)(name, addend.value_dB);
        for (const auto& term : figure->budget)
            (*this)(name, term.u_dB);
    }
    void operator()(const char* name, const std::optional<Expanded>& e)
    {
        if (!e)
            return;
        (*this)(name, e->U_dB);
        (*this)(name, e->u_dB);
        (*this)(name, e->coverageFactor);
    }
    std::string found;
};

void searchIn(const ToneSummary& t, Search& search)
{
    search("level", t.level_dBFS);
    search("frequency", t.frequency);
    search("steadiness", t.steadiness_dB);
    search("scatter", t.scatter_dB);
    search("slope", t.slope_dBPerSecond);
    search("slope's U", t.slopeU_dBPerSecond);
    search("distortion", t.distortion_percent);
    search("distortion and noise", t.distortionAndNoise_percent);
    search("noise", t.noise_dBFS);
    search("noise A", t.noiseA_dBFS);
    search("hum", t.hum_dBFS);
    search("mains", t.hum);
    search("hum's bound", t.humBound_dB);
    search("headroom", t.headroom_dB);
    search("dc", t.dc_dBFS);
    search("stretch", t.stretch_s);
    search("start", t.start_s);
    search("second share", t.secondShare);
    search("second spread", t.secondSpread_dB);
    search("second", t.second_dBFS);
    search("duration", t.duration_s);
    search("summary's rate", t.sampleRate_Hz);
}

void searchIn(const Reading& r, Search& search)
{
    searchIn(r.tone, search);
    search("measured", r.measured);
    search("measured U", r.measuredU);
    search("expected", r.expected);
    search("expected U", r.expectedU);
    if (r.difference) {
        search("difference", r.difference->D_dB);
        search("difference's U", r.difference->expanded);
        search("E_n", r.difference->enNumber);
    }
    search("dB SPL for 1 V", r.sensitivity.dBSPLPerVolt);
    search("dB SPL for 1 mW", r.sensitivity.dBSPLPerMilliwatt);
    search("voltage for 94 dB", r.sensitivity.terminalVoltsFor94);
}

} // namespace

std::string notFinite(const Estimate& e)
{
    Search search;
    const ToneEstimate& t = e.tone;
    search("amplitude", t.amplitude);
    search("frequency", t.frequency_Hz);
    search("sigma of amplitude", t.sigmaAmplitude);
    search("sigma of frequency", t.sigmaFrequency_Hz);
    search("window", t.window_s);
    search("amplitude of the hop", t.hopAmplitude);
    search("dc", t.dc);
    search("noise of the fit", t.noisePower);
    for (const double harmonic : t.harmonics)
        search("harmonic", harmonic);
    search("mains frequency", t.mainsFrequency_Hz);
    search("mains amplitude", t.mainsAmplitude);
    search("mains bound", t.mainsBound);
    search("second tone", magnitude(e.secondTone));
    search("second power", e.secondPower);
    search("second peak", e.secondPeak);
    search("noise", e.noisePower);
    search("noise A", e.noisePowerA);
    search("peak", e.peak);
    search("hop's peak", e.hopPeak);
    search("duration", e.duration_s);
    for (const auto& level : e.levels) {
        search("fast", level.fast);
        search("slow", level.slow);
        search("energy", level.energy);
        search("fastest maximum", level.fastMax);
        search("slow maximum", level.slowMax);
        search("fast minimum", level.fastMin);
        search("slow minimum", level.slowMin);
        search("weighted peak", level.peak);
    }
    return search.found;
}

std::string notFinite(const LiveView& view)
{
    Search search;
    searchIn(view.reading, search);
    if (view.second)
        searchIn(*view.second, search);
    search("reference's age", view.referenceAge_s);
    for (const auto& point : view.trend)
        search("trend", point.level_dB);
    search("weighted", view.weighted_dB);
    search("weighted maximum", view.weightedMax_dB);
    search("weighted minimum", view.weightedMin_dB);
    search("rate", view.sampleRate_Hz);
    if (view.spectrum)
        for (const auto& line : view.spectrum->lines)
            search("spectrum", line.level_dB);
    return search.found;
}

} // namespace couplet::fuzz
