// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>
#include <string>

// Purpose: what the measurement promises, each with its limit, and a place where tests and benchmarks note what they
//          reached: the file that COUPLET_REACHED names, of which Speed/run.sh makes docs/performance.md's first table.
// Thread:  one at a time.
namespace couplet::targets {

struct Target
{
    int place; // in the table
    const char* promise;
    double limit;
    const char* unit; // "" for ratios
    int decimals;
    bool atLeast = false; // the limit is the least, not the most
};

// A cell is one window, tone, ratio and rate; 1.16: 1.10 and two standard errors of what 560 windows tell.
inline constexpr Target level{10, "scatter of level over the joint Cramer-Rao bound, all cells", 1.10, "", 3};
inline constexpr Target levelCell{11, "the same, the largest of any cell", 1.16, "", 3};
inline constexpr Target frequency{12, "scatter of frequency over the bound, all cells", 1.10, "", 3};
inline constexpr Target frequencyCell{13, "the same, the largest of any cell", 1.16, "", 3};
inline constexpr Target bias{14, "bias of level, of 0.0005 dB or three standard errors, in any cell", 1.0, "", 2};

inline constexpr Target hum{20, "level moved by hum as strong as the tone", 1e-4, "dB", 6};
inline constexpr Target besideHum{21, "the same, thousands of tones 2/T and more from its orders", 1e-4, "dB", 6};
inline constexpr Target harmonics{22, "by 10 % of 2nd and of 3rd harmonic", 1e-4, "dB", 6};
inline constexpr Target constant{23, "by a constant of half full scale", 1e-4, "dB", 6};
inline constexpr Target together{24, "by all of them together", 1e-4, "dB", 6};
inline constexpr Target beside{25, "nearer to the mains or lower: error of what is not withheld", 1e-4, "dB", 6};
inline constexpr Target working{26, "500.01 Hz beside 50 Hz hum of -20 dB: error, none withheld", 1e-3, "dB", 6};
inline constexpr Target family{27, "mains' family found after, beside a tone or without one", 2.0, "s", 2};
inline constexpr Target familyChange{28, "a change of it followed after", 2.0, "s", 2};

inline constexpr Target jumps{30, "jumps of a tone not found again within 0.2 s", 2.0, "%", 2};
inline constexpr Target steps{31, "steps below 30 Hz not found again within 0.2 s", 5.0, "%", 2};
inline constexpr Target lowJumps{32, "jumps to below 60 Hz not found again within 0.2 s", 2.0, "%", 2};
inline constexpr Target claimed{33, "hops of white or pink noise that claim a tone", 1.0, "%", 2};

inline constexpr Target weighting{40, "A and C off their curve up to 16 kHz, at any rate", 0.1, "dB", 4};
inline constexpr Target classOne{41, "the same at 20 kHz", 3.0, "dB", 3};
inline constexpr Target bursts{42, "tonebursts from 1 ms up, off Table 4", 0.1, "dB", 4};
inline constexpr Target shortBursts{43, "tonebursts of 0.25 and 0.5 ms, off Table 4", 0.2, "dB", 4};
inline constexpr Target linearity{44, "level of a tone off its own, from full scale to 110 dB below", 0.01, "dB", 6};

inline constexpr Target oneMicrophone{50, "signal chain, one microphone, a stereo frame", 30.0, "ns", 1};
inline constexpr Target twoMicrophones{51, "two microphones", 50.0, "ns", 1};
inline constexpr Target inHost{52, "plugin in a host above an empty one, one microphone, blocks of 16 to 1024", 60.0,
                               "ns", 1};
inline constexpr Target inHostTwo{53, "the same, two microphones", 60.0, "ns", 1};
inline constexpr Target blocks{54, "blocks of 16 beside those of 1024: the processor", 1.3, "", 2};
inline constexpr Target blocksInHost{55, "the same in a host, above an empty plugin of JUCE's", 1.3, "", 2};
inline constexpr Target callback{56, "longest work in one callback of 16 samples, of its time", 25.0, "%", 1};
inline constexpr Target windows{57, "a window of 10 s beside one of 0.1 s", 1.1, "", 2};
inline constexpr Target transform{58,  "a flat-top transform in double precision beside the tone estimate", 5.0, "", 2,
                                  true};
inline constexpr Target single{59, "the same in single precision", 4.0, "", 2, true};
inline constexpr Target transformScatter{60, "scatter of level beside the flat-top transform's", 1.0, "", 2};
inline constexpr Target instances{61, "64 instances, their audio, of a core", 10.0, "%", 1};
inline constexpr Target memory{62, "memory that 40 s more of a session take", 4096.0, "bytes", 0};

// `by`: the test or the table that found it. Gives the figure back. Without COUPLET_REACHED nothing is noted.
double reached(const Target&, double figure, const std::string& by);

// Of what has been found so far; what is no number stays, and holds nothing.
inline double larger(double worst, double figure)
{
    return std::isnan(worst) || figure <= worst ? worst : figure;
}

inline bool isHeld(const Target& t, double figure)
{
    return t.atLeast ? figure >= t.limit : figure <= t.limit;
}

} // namespace couplet::targets
