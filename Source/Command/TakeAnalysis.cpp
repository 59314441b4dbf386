// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/TakeAnalysis.h"

#include "Bench/StretchFinder.h"
#include "Command/TakeFile.h"
#include "Signal/Analyser.h"

namespace couplet {

Outcome<TakeAnalysis> analyseTake(const std::string& path, int channel, std::optional<int> secondChannel)
{
    const auto take = TakeFile::open(path);
    if (!take)
        return take.fault();
    if (const auto there = take->checkChannel(channel, "channel"); !there)
        return there.fault();
    std::vector<int> channels{channel};
    if (secondChannel) {
        if (const auto there = take->checkChannel(*secondChannel, "drive-channel"); !there)
            return there.fault();
        channels.push_back(*secondChannel);
    }
    Analyser analyser(take->sampleRate_Hz());
    StretchFinder stretch;
    const auto done = take->read(channels, [&](const float* const* samples, int count) {
        analyser.add(samples[0], secondChannel ? samples[1] : nullptr, count,
                     [&](const Estimate& e) { stretch.add(e); });
    });
    if (!done)
        return done.fault();
    analyser.finish([&](const Estimate& e) { stretch.add(e); });
    return TakeAnalysis{stretch.summary(), analyser.levels(), analyser.heard_s(), take->sampleRate_Hz()};
}

} // namespace couplet
