// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/TakeAnalysis.h"

#include "Bench/StretchFinder.h"
#include "Command/TakeFile.h"
#include "Signal/Analyser.h"
#include "Signal/Sound.h"

#include <cmath>
#include <vector>

namespace couplet {
namespace {

// The take's first second is held back until the constant under it is known: it was there before the take began.
class Beginning
{
public:
    explicit Beginning(double sampleRate_Hz) : wanted(static_cast<std::size_t>(length_s * sampleRate_Hz)) {}

    bool isOver() const { return first.size() >= wanted; }
    void add(const float* samples, const float* others, int count)
    {
        first.insert(first.end(), samples, samples + count);
        if (others != nullptr)
            second.insert(second.end(), others, others + count);
    }
    template <class Add> void passOn(Analyser& analyser, Add&& add)
    {
        analyser.expectConstant(constant());
        add(first.data(), second.empty() ? nullptr : second.data(), static_cast<int>(first.size()));
    }

private:
    static constexpr double length_s = 1.0;

    // Under a Hann window, so that a low tone that is cut off does not count. What is no sound counts as nothing.
    double constant() const
    {
        double sum = 0.0, weights = 0.0;
        for (std::size_t i = 0; i < first.size(); ++i) {
            const double share = (static_cast<double>(i) + 0.5) / static_cast<double>(first.size());
            const double weight = 1.0 - std::cos(2.0 * pi * share);
            if (!isSound(first[i]))
                continue;
            sum += weight * static_cast<double>(first[i]);
            weights += weight;
        }
        return weights > 0.0 ? sum / weights : 0.0;
    }

    std::size_t wanted;
    std::vector<float> first, second;
};

} // namespace

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
    const auto add = [&](const float* first, const float* second, int count) {
        analyser.add(first, second, count, [&](const Estimate& e) { stretch.add(e); });
    };
    Beginning beginning(take->sampleRate_Hz());
    const auto done = take->read(channels, [&](const float* const* samples, int count) {
        const float* second = secondChannel ? samples[1] : nullptr;
        if (beginning.isOver()) {
            add(samples[0], second, count);
            return;
        }
        beginning.add(samples[0], second, count);
        if (beginning.isOver())
            beginning.passOn(analyser, add);
    });
    if (!done)
        return done.fault();
    if (!beginning.isOver())
        beginning.passOn(analyser, add);
    analyser.finish([&](const Estimate& e) { stretch.add(e); });
    return TakeAnalysis{stretch.summary(), analyser.levels(), analyser.heard_s(), take->sampleRate_Hz()};
}

} // namespace couplet
