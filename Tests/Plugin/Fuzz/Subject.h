// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/Fuzz/Sounds.h"
#include "Plugin/Processor.h"

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

// Purpose: one processor in the hands of a host that does anything in any order, and what must hold after each step:
//          audio goes through bit for bit unless a loop was muted; every published number is one; hops count upward;
//          nothing is allocated, locked or waited for on the audio thread; a clean tone after whatever came before is
//          read within 0.01 dB after one window and half a second.
// Errors:  Finding.
// Thread:  message, which plays the audio thread too.
namespace couplet::fuzz {

struct Finding
{
    std::string what;
};

struct Counts
{
    std::int64_t steps = 0, blocks = 0, samples = 0, estimates = 0, recoveries = 0;
};

class Subject
{
public:
    Subject(std::uint64_t seed, Counts&);

    void step();
    const std::string& lastStep() const { return doing; }

private:
    void play();
    void prepare();
    void changeParameter();
    void keepOrRestoreState();
    void pressControl();
    void recover();

    enum class Handing { asAgreed, strange }; // some hosts hand over more channels than were agreed on, or fewer
    void playFor(Sound&, double seconds, int block, Handing);
    void block(Sound&, int samples, Handing);
    void followTwin();
    void settle();
    void checkView();

    Chance chance;
    Counts& counts;
    std::unique_ptr<Processor> processor;
    AudioHalf twin; // hears the same, so that its estimates can be looked at
    std::int64_t lastHop = 0;
    std::uint32_t lastStream = 0;
    std::uint64_t lastRevision = 0;
    double rate_Hz = 48000.0;
    int channels = 2, largestBlock = 512;
    juce::MemoryBlock kept;
    std::string doing;
};

} // namespace couplet::fuzz
