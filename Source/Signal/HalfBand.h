// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

// Purpose: halves or doubles a sample rate by a half-band filter of linear phase.
// Source:  sinc under a Kaiser window of 90 dB (Kaiser 1974, from memory).
// Thread:  any but audio (allocates).
namespace couplet {

// Taps at odd offsets 1, 3, 5, ... from the centre; the centre's is a half, even ones are 0.
std::vector<double> halfBandTaps(std::size_t count);

class Halver
{
public:
    explicit Halver(std::size_t taps) : odd(halfBandTaps(taps)) { restart(); }
    // In place; what does not fill a pair waits for the next block.
    void run(std::vector<double>& samples);
    void restart() { line.assign(2 * odd.size() - 1, 0.0); }

private:
    std::vector<double> odd, line;
};

class Doubler
{
public:
    explicit Doubler(std::size_t taps) : odd(halfBandTaps(taps)) { restart(); }
    void run(const std::vector<double>& samples, std::vector<double>& twice);
    void restart() { line.assign(odd.size(), 0.0); }

private:
    std::vector<double> odd, line;
};

} // namespace couplet
