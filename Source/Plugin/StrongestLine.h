// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Fourier.h"

#include <cstddef>
#include <optional>
#include <vector>

// Purpose: the strongest line of a stretch of samples, worked out in pieces as small as the caller likes, so that no
//          single callback bears a whole transform.
// Units:   amplitude relative to full scale = 1; shares 0 to 1.
// Source:  a Hann-windowed spectrum; a line is its strongest bin with two neighbours on either side.
// Thread:  audio after construction, which allocates.
namespace couplet {

class StrongestLine
{
public:
    // length: a power of two, at least 8.
    explicit StrongestLine(std::size_t length);

    struct Line
    {
        std::size_t bin = 0;
        double amplitude = 0.0;
        double share = 0.0; // of all power but a constant's; 0 in silence
        double full = 0.0;  // share of the samples that stand at full scale, two or more in a row
    };

    // Takes the samples of a ring, the oldest of which stands at `oldest`, and gives back another vector of that length
    // for those to come. What was under way is given up.
    void begin(std::vector<float>& ring, std::size_t oldest) noexcept;
    bool isBusy() const noexcept { return stage != Stage::idle; }
    // Steps that one stretch takes in all.
    std::size_t steps() const noexcept;
    // At most so many more; the line when the last of them was done.
    std::optional<Line> work(std::size_t most) noexcept;
    void giveUp() noexcept { stage = Stage::idle; }

private:
    enum class Stage { idle, loading, transforming, looking };

    std::size_t load(std::size_t most) noexcept;
    std::size_t look(std::size_t most) noexcept;
    Line found() const noexcept;

    Fourier transform;
    std::vector<double> window, powers; // powers of the bins
    std::vector<float> held;
    double windowPower = 0.0;      // sum of its squares
    std::size_t full = 0, run = 0; // samples at full scale: in all, and in a row until now
    std::size_t oldest = 0, at = 0, strongest = 0;
    double all = 0.0;
    Stage stage = Stage::idle;
};

} // namespace couplet
