// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Breaks.h"
#include "Bench/OnsetWatch.h"
#include "Bench/TakeWatch.h"
#include "Metrology/Fitness.h"
#include "Quantities/Units.h"
#include "Signal/ToneEstimate.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

// Purpose: what a stretch of sound says of its tone, in the units that readers and records use.
// Units:   dBFS (a full-scale sine reads 0), dB, Hz, percent, s. What cannot be had is absent.
// Thread:  any but audio.
namespace couplet {

struct ToneSummary
{
    std::optional<double> level_dBFS; // absent: there is no tone to speak of
    std::string whyNoLevel;           // one sentence; empty when there is one
    std::optional<Hertz> frequency;
    std::optional<double> steadiness_dB; // largest deviation of the level under F (125 ms) from its mean
    double scatter_dB = 0.0;             // standard deviation of that level
    bool wobbles = false;                // level or speed kept moving a little, and the tone went on without a jump
    double slope_dBPerSecond = 0.0, slopeU_dBPerSecond = 0.0;
    std::optional<double> distortion_percent; // orders 2 to 10, of the fundamental
    double thirdInPhase = 0.0; // of the third harmonic what a gain which depends on level may have made (ToneEstimate)
    std::optional<double> distortionAndNoise_percent; // all that is not the tone, of the whole
    std::optional<double> noise_dBFS;                 // 20 Hz to 20 kHz, lines taken out
    std::optional<double> noiseA_dBFS;                // A-weighted
    std::optional<double> hum_dBFS;                   // absent: no mains stands out of the noise
    std::optional<Hertz> hum;
    double humBound_dB = 0.0;               // how far a mains order on the tone may move it
    std::optional<double> headroom_dB;      // of the stretch's largest sample to full scale; without a level, of all
    std::int64_t clippedSamples = 0;        // likewise
    std::optional<double> wholeHeadroom_dB; // of a whole take, whatever was used of it
    std::int64_t clippedElsewhere = 0;      // in a take, outside its stretch
    double clippedElsewhere_s = 0.0;        // the first of them, or, when that lies behind the stretch, the last
    std::int64_t brokenSamples = 0;         // no sound (see Analyser)
    std::int64_t brokenSecondSamples = 0;   // likewise of the second channel
    std::optional<double> dc_dBFS;
    double stretch_s = 0.0;                // what the tone's figures are drawn from
    double start_s = 0.0;                  // where it begins
    bool begins = false;                   // the tone was found there, and had been heard for a little longer
    int disturbances = 0;                  // knocks, slips and changes that ended a stretch
    Breaks breaks;                         // that the same tone outlasted
    std::optional<Onset> onset;            // that overshot
    std::vector<Flaw> flaws;               // that may keep the level from being judged
    bool live = false;                     // of what sounds now, not of a take
    double secondShare = 0.0;              // of the second channel's power that is this tone, 0 to 1
    std::optional<double> secondSpread_dB; // half the range of its level over the stretch, hop by hop
    bool secondClipped = false;
    std::optional<double> second_dBFS; // the second channel's level at the tone
    double duration_s = 0.0;           // heard in all, whatever the levels were reset to
    double sampleRate_Hz = 0.0;

    std::optional<double> humBelowTone_dB() const;
};

// As the watch over the take wants it; the summary has a level.
UsedStretch usedStretch(const ToneSummary&, bool live);

// From a largest sample, > 0, to full scale: negative beyond it, as floats can be. Full scale itself has none.
double headroomOf(double peak);

// What Metrology asks of a calibrator's tone; absent without one.
std::optional<ToneFacts> toneFacts(const ToneSummary&);

// For samples that were clipped in a take but not where its level comes from.
std::string clippedElsewhereSentence(const ToneSummary&);
// For a headroom below zero.
std::string beyondSentence(double headroom_dB);
// For samples that came from upstream and were no sound.
std::string brokenSentence(std::int64_t samples);
// Likewise of both channels, as notes.
void noteBroken(const ToneSummary&, std::vector<std::string>& notes);

// The sentence for a tone that is not there.
std::string whyNoTone(NoTone, const ToneEstimate&);

} // namespace couplet
