// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopSummer.h"

#include <array>

// Purpose: how a tone's amplitude and phase go on within a hop, in some 3 ms each: what a level or a speed that wobbles
//          does, and no line of one frequency can follow. The tone's power is whole again however its phase bends.
// Source:  the mean of the complex envelope over a part, its image at the negative frequency solved for; what it loses to
//          a phase that turns within the part by the first terms of the sinc's series. Noise by third differences, which
//          a wobble up to 20 Hz hardly has (binomial coefficients: 1 + 9 + 9 + 1 = 20 variances).
// Ranges:  tones from 80 Hz up, 0.8 of a period a part at least; below nothing is known.
// Units:   amplitudes as peak, full scale = 1; rad/sample.
// Thread:  audio (no allocation, no locks).
namespace couplet {

class ToneParts
{
public:
    struct Hop // what was found in one
    {
        bool known = false;
        bool jumped = false;                     // amplitude or phase did not go on evenly
        bool modulated = false;                  // its power is more than that of its mean, and than noise explains
        double power = 0.0;                      // mean square of the envelope, noise taken out
        std::array<double, partsOfHop> powers{}; // likewise, of equal parts of the hop
        double excess = 0.0;                     // beyond the square of its mean
        double noise = 0.0;                      // mean square that noise makes in a single part's amplitude
        double deviation = 0.0;                  // mean square of what was there beyond the tone that was taken out
        double omega = 0.0;                      // mean frequency
    };

    ToneParts(int chunksInHop, double sampleRate_Hz) : perHop(chunksInHop), rate(sampleRate_Hz) {}

    // A hop begins; omega 0: without a tone.
    void begin(double omega);
    // A chunk less its lines; the tone that was among them had this amplitude at the chunk's centre, and this frequency.
    // True when a part has ended.
    bool add(const FoldedChunk& left, Phasor removed, double removedOmega);
    // After a hop's last chunk.
    Hop end();
    void forget() { *this = ToneParts(perHop, rate); }

    // After a part: the tone so many samples after the part's end, as it goes on, and how fast it will turn.
    Phasor ahead(double samples) const;
    double omegaAhead() const;

private:
    static constexpr int most = 15;

    struct Part
    {
        Phasor a;       // mean of the envelope, about the hop's centre at `w`
        Phasor image;   // what its slope over the part adds to `a` by way of the negative frequency
        double beside;  // squared: what was there beyond what was taken out
        double samples; // as long as it is
        double apart;   // angle by which what was taken out turned in it, beyond `w`
    };
    struct Trail // the newest parts, across hops
    {
        Phasor tone;                         // as it stands at the part's centre
        double omega = 0.0, lastOmega = 0.0; // how fast it turned since the part before, and before that
        double quickening = 0.0;             // of omega, from a part to the next, smoothed
        double size = 0.0, growth = 0.0;     // of the tone, and from a part to the next
        double length = 0.0;                 // samples
        int parts = 0;                       // followed
    };

    void endPart();
    void follow(Phasor a, double centre, double samples);
    void takeOutImages();
    void fillPowers(Hop&) const;

    int perHop;
    double rate;
    double w = 0.0;
    int parts = 0; // that this hop is cut into; 0: none
    int ended = 0, chunk = 0, chunksInPart = 0;
    alignas(vectorBytes) std::array<double, halfChunk> cosine{};
    alignas(vectorBytes) std::array<double, halfChunk> sine{};
    double sineW = 0.0, cosineW = 1.0;
    Phasor turn, step, left, removed;
    double removedTurn = 0.0; // rad within the part, beyond `w`
    std::array<Part, most> part{};
    Trail now;
    bool jumped = false;
};

} // namespace couplet
