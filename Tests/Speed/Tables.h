// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Stream.h"

#include <string>
#include <vector>

// Purpose: the tables of docs/performance.md, as Markdown.
namespace couplet::speed {

std::string stagesTable();
std::string windowsTable();
std::string callbacksTable();
std::string flatTopTable();
std::string scatterTable();
std::string spectrumTable();

// One stage alone over so many seconds, for counting instructions. False: there is no such stage.
bool runStage(const std::string& name, int seconds);

// What the chain is timed on: a tone with a harmonic and hum, 60 dB above white noise.
inline test::Truth usualTruth(double sampleRate_Hz = 48000.0)
{
    test::Truth truth;
    truth.sampleRate_Hz = sampleRate_Hz;
    truth.hum = 1e-3;
    truth.second = 3e-3;
    return truth.withSnr_dB(60.0);
}

inline std::vector<float> usualSamples(double seconds, double sampleRate_Hz = 48000.0)
{
    test::Stream stream(usualTruth(sampleRate_Hz), 1);
    return stream.seconds(seconds);
}

} // namespace couplet::speed
