// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/SpectrumMaking.h"

#include "Bench/Reading.h"
#include "Quantities/Decibels.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace couplet {
namespace {

constexpr double lowest_Hz = 20.0, highest_Hz = 20000.0;

// An order stands out when its amplitude is five standard deviations of what noise alone would give it. Noise passes
// that once in e^(25/2) = 270 000 readings (Rayleigh), and a level that does is known to some 2 dB.
constexpr double standsOut = 5.0;
// Noise beside an order: the lower quartile of the lines to either side, beyond the window's main lobe; so other lines
// do not count. Of powers that are the mean of eight overlapping transforms it is about 0.75 of their mean (found by
// trial on white noise).
constexpr int besideFrom = 6, besideTo = 40; // lines
constexpr double quartileOfMean = 0.75;

// What is to be added to a level at a frequency.
class Addends
{
public:
    explicit Addends(const Setup& setup)
    {
        const auto offset = offsetInForce(setup);
        if (!offset)
            return;
        isReferenced = true;
        offset_dB = offset->level_dB;
        const Reference* reference = setup.coupler ? setup.coupler->current() : nullptr;
        if (reference == nullptr || setup.coupler->response.empty())
            return;
        if (const auto there = responseAt_dB(setup.coupler->response, reference->frequency)) {
            table = &setup.coupler->response;
            offset_dB += *there;
        }
    }
    bool referenced() const { return isReferenced; }
    bool responseTakenOut() const { return table != nullptr; }
    std::optional<double> at(double frequency_Hz) const
    {
        if (table == nullptr)
            return offset_dB;
        const auto here = responseAt_dB(*table, Hertz(frequency_Hz));
        return here ? std::optional(offset_dB - *here) : std::nullopt;
    }

private:
    const std::vector<ResponsePoint>* table = nullptr;
    double offset_dB = 0.0;
    bool isReferenced = false;
};

std::optional<double> levelOf(double power, std::optional<double> addend_dB)
{
    if (!(power > 0.0) || !std::isfinite(power) || !addend_dB)
        return {};
    return decibelsOfPower(power) + *addend_dB;
}

std::size_t sliceOf(double frequency_Hz)
{
    const double share = std::log(frequency_Hz / lowest_Hz) / std::log(highest_Hz / lowest_Hz);
    return std::min(static_cast<std::size_t>(share * static_cast<double>(spectrumSlices)), spectrumSlices - 1);
}

// The highest line of each slice that holds one.
std::vector<SpectrumPoint> pointsOf(const Spectrum& spectrum, const Addends& addends)
{
    std::vector<SpectrumPoint> points;
    points.reserve(spectrumSlices);
    std::size_t slice = spectrumSlices;
    for (std::size_t k = 0; k < spectrum.powers.size(); ++k) {
        const double f = static_cast<double>(k) * spectrum.lineSpacing_Hz;
        if (f < lowest_Hz || f > highest_Hz)
            continue;
        const SpectrumPoint point{f, levelOf(static_cast<double>(spectrum.powers[k]), addends.at(f))};
        if (const auto here = sliceOf(f); here != slice) {
            slice = here;
            points.push_back(point);
        }
        else if (point.level_dB && (!points.back().level_dB || *point.level_dB > *points.back().level_dB)) {
            points.back() = point;
        }
    }
    return points;
}

std::vector<BandReading> bandsOf(const BandPowers& powers, const Addends& addends)
{
    std::vector<BandReading> bands;
    for (std::size_t i = 0; i < powers.size(); ++i) {
        const ThirdOctave band = thirdOctave(i);
        bands.push_back({band.nominal_Hz, band.midband_Hz, {}});
        if (powers[i]) // a full-scale sine's mean square is a half
            bands.back().level_dB = levelOf(2.0 * *powers[i], addends.at(band.midband_Hz));
    }
    return bands;
}

// Standard deviation of an amplitude that is fitted at this frequency over the tone's window: of white noise of the
// density S it is sqrt(S / window), and the fit knows it for the whole band.
double noiseAt(double frequency_Hz, const Spectrum& s, const ToneEstimate& tone)
{
    const auto last = static_cast<int>(s.powers.size()) - 1;
    const int centre = std::min(static_cast<int>(std::lround(frequency_Hz / s.lineSpacing_Hz)), last - besideTo);
    std::vector<float> beside;
    for (int away = besideFrom; away <= besideTo; ++away)
        for (const int k : {centre - away, centre + away})
            if (k >= besideFrom && k <= last)
                beside.push_back(s.powers[static_cast<std::size_t>(k)]);
    if (beside.empty())
        return tone.sigmaAmplitude;
    const auto quartile = beside.begin() + static_cast<std::ptrdiff_t>(beside.size() / 4);
    std::nth_element(beside.begin(), quartile, beside.end());
    const double density = static_cast<double>(*quartile) / quartileOfMean / 2.0 / s.noiseBandwidth_Hz;
    return std::max(std::sqrt(density / tone.window_s), tone.sigmaAmplitude);
}

std::vector<OrderReading> ordersOf(const Spectrum& spectrum, const ToneEstimate& tone, const Addends& addends)
{
    std::vector<OrderReading> orders;
    if (!tone.held() || !(tone.amplitude > 0.0) || !(tone.window_s > 0.0))
        return orders;
    const bool settled = spectrum.averages == SpectrumAnalyser::mostAverages;
    const auto atTone_dB = addends.at(tone.frequency_Hz);
    for (int order = 2; order <= toneOrders; ++order) {
        OrderReading reading{order, order * tone.frequency_Hz, {}, {}};
        if (reading.frequency_Hz >= highestShareOfNyquist * spectrum.sampleRate_Hz / 2.0) // none is fitted there
            break;
        const double amplitude = tone.harmonics[static_cast<std::size_t>(order - 1)];
        const auto here_dB = addends.at(reading.frequency_Hz);
        if (settled && atTone_dB && here_dB && amplitude > 0.0 &&
            amplitude >= standsOut * noiseAt(reading.frequency_Hz, spectrum, tone)) {
            reading.belowTone_dB = decibels(tone.amplitude / amplitude) + *atTone_dB - *here_dB;
            reading.percent = 100.0 * ratioFrom_dB(-*reading.belowTone_dB);
        }
        orders.push_back(reading);
    }
    return orders;
}

} // namespace

SpectrumReading noSpectrum(std::string whyNot)
{
    SpectrumReading reading;
    reading.whyNot = std::move(whyNot);
    return reading;
}

SpectrumReading makeSpectrumReading(const SpectrumResult& result, const ToneEstimate& tone, const Setup& setup)
{
    const Spectrum& spectrum = result.spectrum;
    if (spectrum.averages == 0)
        return noSpectrum(
            result.brokenSamples > 0
                ? "samples that are not finite or beyond +120 dBFS arrive: whatever comes before Couplet makes them"
                : "the spectrum settles: it needs a second of sound without a gap");
    const Addends addends(setup);
    SpectrumReading reading;
    reading.referenced = addends.referenced();
    reading.responseTakenOut = addends.responseTakenOut();
    reading.window = "flat-top HFT95";
    reading.length_s = spectrum.length_s;
    reading.noiseBandwidth_Hz = spectrum.noiseBandwidth_Hz;
    reading.averages = spectrum.averages;
    reading.lines = pointsOf(spectrum, addends);
    reading.bands = bandsOf(result.bands, addends);
    reading.bandsAveraged_s = ThirdOctaveBank::timeConstant_s;
    reading.orders = ordersOf(spectrum, tone, addends);
    return reading;
}

} // namespace couplet
