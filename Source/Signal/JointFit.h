// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopRing.h"
#include "Signal/HopSummer.h"
#include "Signal/LineSystem.h"

// Purpose: amplitude and frequency of a tone by joint least squares with its harmonics, the mains and the constant,
//          over a window joined from hops. None of them moves the tone's level.
// Source:  IEEE Std 1057 sine fit, extended to many lines; frequency by Gauss-Newton. Scatter is that of the joint
//          Cramer-Rao bound (Rife and Boorstyn 1974; Kay 1993; from memory).
// Units:   amplitudes as peak, full scale = 1; rad/sample.
// Thread:  audio (no allocation, no locks).
namespace couplet {

enum class MainsLines { none, believed, other, both };

struct FitRequest
{
    int hops = 1;     // newest so many of the ring, 1 to ring.size()
    LineTuning start; // frequencies to start from
    bool tone = true;
    MainsLines mains = MainsLines::believed; // which family's lines take part
    int mainsLimit = mainsOrders;            // at most so many orders of it
    bool refine = true;                      // let the tone's frequency move
    int rounds = 2;                          // of refining, at most
};

struct Fit
{
    int hops = 0;
    double samples = 0.0;                 // of the window
    LineTuning tuning;                    // the tone's refined, the others' as given
    double amplitude = 0.0;               // of the tone
    LineSet atCentre;                     // every solved line and the constant, at the window's centre
    std::array<bool, lineCount> solved{}; // which lines took part
    double noiseVariance = 0.0;           // of what is left, per sample
    double sigmaAmplitude = 0.0;          // standard deviations by the joint Fisher information
    double sigmaOmega = 0.0;
    bool consistent = false; // false: the sums were taken too far from the frequencies found
    bool valid = false;      // false: singular, or the frequency ran away
};

class JointFit
{
public:
    explicit JointFit(int samplesPerHop) : hopSamples(samplesPerHop) {}

    Fit operator()(const HopRing&, const FitRequest&);

private:
    struct Step // of one Gauss-Newton round
    {
        double omega = 0.0;
        double explained = 0.0; // by it, of what the linear solve left
    };

    void choose(const FitRequest&, const LineTuning&, double samples);
    Step improve(double samples, EvenOdd& x);
    void fillSigmas(Fit&, const EvenOdd& x) const;

    double hopSamples;
    HopSums joined; // of the whole window about its centre, at the trial frequencies
    LineChoice choice;
    LineSystem system;
    double toneCurvature = 0.0; // of the tone's frequency, all else solved
    EvenOdd toneColumn;         // G^-1 U of the tone's derivative
};

// The lines of a fit moved by `samples` from the window's centre.
LineSet moved(const LineSet&, const LineTuning&, double samples);

} // namespace couplet
