// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Analyser.h"
#include "Stream.h"

#include <vector>

// Purpose: what the analyser or the tracker alone says of a stream, hop by hop.
namespace couplet::test {

inline std::vector<ToneEstimate> tracked(ToneTracker& tracker, Stream& stream, double duration_s, double sampleRate_Hz)
{
    std::vector<ToneEstimate> hops;
    const auto chunks = static_cast<int>(duration_s * sampleRate_Hz / chunkLength);
    for (int i = 0; i < chunks; ++i) {
        const auto chunk = stream.chunk();
        if (tracker.add(chunk.data(), folded(chunk.data())))
            hops.push_back(tracker.estimate());
    }
    return hops;
}

inline std::vector<Estimate> analysed(Analyser& analyser, const std::vector<float>& samples,
                                      const std::vector<float>& second = {})
{
    std::vector<Estimate> hops;
    const auto take = [&](const Estimate& e) { hops.push_back(e); };
    analyser.add(samples.data(), second.empty() ? nullptr : second.data(), static_cast<int>(samples.size()), take);
    analyser.finish(take);
    return hops;
}

} // namespace couplet::test
