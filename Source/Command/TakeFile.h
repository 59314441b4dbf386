// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Command/TakeFormat.h"
#include "Quantities/Outcome.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

// Purpose: a take, WAV or AIFF, streamed: memory does not grow with its length, and it can be read more than once.
//          Read here and not by a framework's reader, for that one gives silence for samples a file does not hold, and
//          room for whatever a header promises.
// Units:   samples relative to full scale. NaN in a take of floats passes: the analysis says so.
// Errors:  one sentence: the file, the place in it, the mend. A take that is not whole is refused when opened.
// Thread:  any but audio (reads files).
namespace couplet {

class TakeFile
{
public:
    static constexpr int largestBlock = 8192;

    // One pointer for each channel asked for, in the order asked; `samples` is 1 to `largestBlock`. Valid during the
    // call.
    using Block = std::function<void(const float* const* channels, int samples)>;

    static Outcome<TakeFile> open(const std::filesystem::path&);

    const std::string& path() const { return where; } // as it was given
    std::string fileName() const;                     // its last part, for a record
    double sampleRate_Hz() const { return format.sampleRate_Hz; }
    int channels() const { return format.channels; }
    std::int64_t lengthInSamples() const { return static_cast<std::int64_t>(format.frames); }
    double duration_s() const { return static_cast<double>(format.frames) / format.sampleRate_Hz; }
    int bits() const { return format.bits; }
    bool isFloat() const { return format.encoding == Encoding::floatingPoint; }

    // A fault when the take has no such channel, counted from 1; `option` is the one that asked for it, such as
    // "drive-channel".
    Outcome<Done> checkChannel(int channel, std::string_view option) const;

    // The whole take, front to back, those channels alone (counted from 1, each there, at least one). Shows its
    // progress on a terminal.
    Outcome<Done> read(const std::vector<int>& channels, const Block&) const;

private:
    TakeFile(std::string path, TakeBytes b, const TakeFormat& f)
        : where(std::move(path)), bytes(std::move(b)), format(f)
    {
    }

    std::string where;
    TakeBytes bytes;
    TakeFormat format;
};

} // namespace couplet
