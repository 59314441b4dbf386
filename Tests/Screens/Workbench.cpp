// SPDX-License-Identifier: GPL-3.0-or-later
#include "Workbench.h"

#include "Bench/ReferenceTaking.h"

#include <cmath>

namespace couplet {

ToneSummary calibratorTone()
{
    ToneSummary tone;
    tone.level_dBFS = -9.31;
    tone.frequency = Hertz(1000.04);
    tone.steadiness_dB = 0.01;
    tone.scatter_dB = 0.004;
    tone.distortion_percent = 0.42;
    tone.distortionAndNoise_percent = 0.43;
    tone.noise_dBFS = -90.6;
    tone.headroom_dB = 9.3;
    tone.stretch_s = 10.0;
    tone.duration_s = 10.0;
    tone.sampleRate_Hz = 48000.0;
    return tone;
}

namespace {

ToneSummary earphoneTone()
{
    ToneSummary tone = calibratorTone();
    tone.level_dBFS = -28.05;
    tone.frequency = Hertz(500.01);
    tone.distortion_percent = 0.08;
    tone.distortionAndNoise_percent = 0.16;
    tone.headroom_dB = 28.0;
    tone.hum = Hertz(50.0);
    tone.hum_dBFS = -28.05 - 57.0;
    tone.stretch_s = 3.0;
    return tone;
}

Coupler referencedCoupler()
{
    ReferenceSetup setup;
    setup.coupler.name = "Ear simulator, left bench";
    setup.coupler.kind = "ear simulator IEC 60318-4";
    setup.coupler.slot = 1;
    setup.coupler.response = {{Hertz(250.0), -0.05}, {Hertz(500.0), -0.05}, {Hertz(1000.0), 0.0}, {Hertz(2000.0), 0.1}};
    Correction correction;
    correction.value_dB = 1.36;
    correction.U_dB = 0.45;
    correction.includesCalibrator = true;
    correction.calibrator = setup.calibrator.name = "field calibrator";
    correction.frequency = Hertz(1000.0);
    setup.coupler.correction = correction;
    setup.calibrator.pressureLaw.kind = PressureLaw::Kind::none;
    setup.calibrator.calibratorClass = 1;
    setup.calibrator.tones = {{Hertz(1000.0), 114.02, 0.15}};
    setup.now = "2026-05-03T12:04:11Z";
    const auto outcome = takeReference(calibratorTone(), setup);
    Coupler coupler = setup.coupler;
    coupler.references = {(*outcome).kept(setup)};
    return coupler;
}

Earphone earphoneS()
{
    Earphone earphone;
    earphone.name = "earphone S";
    earphone.rating.level_dB = 112.40;
    earphone.rating.frequency = Hertz(500.0);
    earphone.rating.tolerance_dB = 1.0;
    earphone.rating.impedance = Ohms(24.0);
    earphone.keptAside = true;
    return earphone;
}

} // namespace

Workbench sketchedBench()
{
    Workbench bench;
    bench.tone = earphoneTone();
    bench.setup.coupler = referencedCoupler();
    bench.setup.earphone = earphoneS();
    bench.setup.side = "left";
    Drive drive;
    drive.voltage = Volts(0.1232);
    drive.source = Ohms(1.0);
    drive.meterAccuracy = Percent(0.5);
    bench.setup.drive = drive;
    bench.setup.now = "2026-05-03T14:04:11Z";
    return bench;
}

ToneSummary silence(const std::string& why)
{
    ToneSummary tone;
    tone.whyNoLevel = why;
    tone.noise_dBFS = -90.6;
    tone.headroom_dB = 71.3;
    tone.sampleRate_Hz = 48000.0;
    return tone;
}

std::deque<TrendPoint> wanderingTrend(double level_dB)
{
    std::deque<TrendPoint> trend;
    for (int i = 0; i < 240; ++i) {
        const double t = i;
        trend.push_back(
            {level_dB + 0.012 * std::sin(t * 1.7) + 0.009 * std::sin(t * 0.61 + 1.0) + 0.008 * std::sin(t * t * 0.37)});
    }
    return trend;
}

LiveView Workbench::view() const
{
    LiveView v;
    v.reading = makeReading(tone, setup);
    v.slotNames[0] = "Ear simulator, left bench";
    v.slotNames[1] = "Ear simulator, right bench";
    v.slotNames[4] = "Artificial ear";
    v.earphoneNames[0] = "earphone P";
    v.earphoneNames[3] = "earphone S";
    v.couplerSlot = setup.coupler ? 1 : 0;
    v.earphoneSlot = setup.earphone ? 4 : 0;
    v.side = setup.side;
    v.reference = ReferenceState::noCoupler;
    if (setup.coupler) {
        const Reference* reference = setup.coupler->current();
        v.reference = reference == nullptr ? ReferenceState::none : ReferenceState::fresh;
        if (reference != nullptr)
            v.referenceAge_s = ageOf_s(*reference, setup.now);
        if (v.referenceAge_s && *v.referenceAge_s > setup.coupler->allowedAge_h * 3600.0)
            v.reference = ReferenceState::stale;
    }
    v.microphoneText = "mic: in 1";
    v.driveText = setup.drive ? "drive: typed" : "drive: none";
    v.audioRuns = true;
    if (v.reading.measured) {
        const double level = v.reading.measured->level_dB;
        v.trend = wanderingTrend(level);
        v.weighted_dB = level + 0.01;
        v.weightedMax_dB = level + 0.03;
        v.weightedMin_dB = level - 0.03;
    }
    return v;
}

} // namespace couplet
