// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

// Purpose: simulated loops, from the plugin's output through loudspeaker, room and microphone back to its input, and
//          sounds that are no loop. Two families whose structures have nothing in common: the guard was tuned on the
//          first, and its second is for a figure that no tuning has touched.
// Units:   Hz, s, samples of full scale 1; two channels.
// Source:  method of this project, no source, but where stated.
// Thread:  one.
namespace couplet::tests {

// One that is asked for its input block by block, and then told what the plugin made of it.
class Loop
{
public:
    virtual ~Loop() = default;
    virtual void hear(float* left, float* right, int samples) = 0;
    virtual void play(const float* left, const float* right, int samples) = 0;

    double rate_Hz = 48000.0;
    int block = 256;
    double seconds = 4.0;
    std::string kind;    // how it comes about: a row of the table
    std::string details; // path, resonances, excess
};

inline constexpr const char* loopKinds[] = {"sudden step", "sudden step, 10 to 30 dB", "door or hand, gradual",
                                            "knob raised slowly", "knob raised in steps"};
inline constexpr int loopKindCount = 5;

struct LoopWish
{
    bool stable = false; // 1 to 10 dB below howling
    double leastExcess_dB = 0.6;
};

// Images of a shoebox room, a loudspeaker with a band and resonances, limits at either end, speech or music in the room.
std::unique_ptr<Loop> roomLoop(std::uint64_t seed, const LoopWish& = {});
// Held out: rings of delays that feed each other, a compressor, a gate or a noise suppressor, a clock that drifts or a
// microphone that moves, gain control, crossed channels.
std::unique_ptr<Loop> otherLoop(std::uint64_t seed, const LoopWish& = {});

// The gain of a loop in time: how it comes about.
class GainPath
{
public:
    GainPath() = default;
    GainPath(class Dice&, int kind, double excess_dB);
    double at(double t_s) const; // dB above that at which it would just howl

private:
    int kind = 0;
    double excess_dB = 0.0, start_s = 0.0, slope = 0.0, length_s = 1.0, from_dB = 0.0, wander_dB = 0.0, wander_Hz = 0.0;
    std::vector<double> steps_dB;
};

struct Sound
{
    double rate_Hz = 48000.0;
    int block = 256;
    std::vector<float> samples;
};

// Harmless sounds of the first family.
int soundKinds();
const char* soundName(int kind);
bool isPromised(int kind); // calibrators, sweeps, music: those with a limit of their own
Sound sound(int kind, std::uint64_t seed);
// Held out.
int otherSoundKinds();
const char* otherSoundName(int kind);
bool isPromisedOfOthers(int kind);
Sound otherSound(int kind, std::uint64_t seed);

// What sounds in a room without any loop.
std::vector<float> speech(class Dice&, double rate_Hz, double seconds, double peak_dBFS);
enum class Music { plucked, organ, flute, crescendo, dense, drums };
std::vector<float> music(class Dice&, Music, double rate_Hz, double seconds, double peak_dBFS);

} // namespace couplet::tests
