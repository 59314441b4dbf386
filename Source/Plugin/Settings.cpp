// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Settings.h"

namespace couplet {
namespace {

constexpr int sourceNothing = 1, sourceCalibrator = 2, firstEarphone = 3;
constexpr double voltsPerMillivolt = 1e-3;

OnCoupler onCouplerOf(int source) noexcept
{
    if (source == sourceCalibrator)
        return {OnCoupler::What::calibrator};
    if (source < firstEarphone)
        return {};
    const auto place = static_cast<std::size_t>(source - firstEarphone);
    return {OnCoupler::What::earphone, place / 2, place % 2 == 0 ? Side::left : Side::right};
}

template <class Unit> std::optional<Unit> aboveNothing(double value)
{
    return value > 0.0 ? std::optional(Unit(value)) : std::nullopt;
}

} // namespace

AudioSettings audioSettings(const Parameters& parameters) noexcept
{
    AudioSettings s;
    s.microphone = parameters.whole(ParameterId::microphoneChannel);
    s.second = static_cast<SecondChannel>(parameters.whole(ParameterId::secondChannel));
    if (const int source = parameters.whole(ParameterId::simulatedSource); source >= sourceNothing) {
        s.simulated = onCouplerOf(source);
        if (const double drive_mV = static_cast<double>(parameters.plain(ParameterId::simulatedDrive)); drive_mV > 0.0)
            s.simulated->drive = Volts(drive_mV * voltsPerMillivolt);
    }
    return s;
}

PassInput passInputOf(const Parameters& parameters) noexcept
{
    return static_cast<PassInput>(parameters.whole(ParameterId::passInput));
}

BenchSettings benchSettings(const Parameters& parameters)
{
    using enum ParameterId;
    constexpr const char* sides[] = {"", "left", "right"};
    BenchSettings s;
    s.couplerSlot = parameters.whole(couplerSlot);
    s.earphoneSlot = parameters.whole(earphoneSlot);
    s.secondCouplerSlot = parameters.whole(secondCouplerSlot);
    s.side = sides[parameters.whole(side)];
    s.driveVoltage = aboveNothing<Volts>(parameters.exact(driveVoltage) * voltsPerMillivolt);
    if (parameters.isOn(driveOpenCircuit))
        s.source = Ohms(parameters.exact(sourceImpedance));
    s.driveFullScale = aboveNothing<Volts>(parameters.exact(driveFullScale));
    s.meterAccuracy = aboveNothing<Percent>(parameters.exact(meterAccuracy));
    s.largestU_dB = parameters.exact(largestU);
    s.weighting = static_cast<FrequencyWeighting>(parameters.whole(weighting));
    s.time = static_cast<TimeWeighting>(parameters.whole(timeWeighting));
    s.hold = parameters.isOn(hold);
    s.passInput = passInputOf(parameters);
    s.audio = audioSettings(parameters);
    if (s.audio.simulated)
        s.audio.simulated->drive = aboveNothing<Volts>(parameters.exact(simulatedDrive) * voltsPerMillivolt);
    return s;
}

int simulatedSourceOf(const OnCoupler& on) noexcept
{
    switch (on.what) {
    case OnCoupler::What::calibrator:
        return sourceCalibrator;
    case OnCoupler::What::earphone:
        return firstEarphone + 2 * static_cast<int>(on.earphone) + (on.side == Side::left ? 0 : 1);
    case OnCoupler::What::nothing:
        break;
    }
    return sourceNothing;
}

} // namespace couplet
