// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tables.h"
#include "Timing.h"

#include "Signal/Analyser.h"
#include "Speed/Targets.h"

#include <fmt/format.h>

#include <array>
#include <functional>

namespace couplet::speed {
namespace {

constexpr int blockLength = 512;
volatile double sink; // what is worked out must not be left out as unused

template <class Each> void forChunks(const std::vector<float>& samples, Each&& each)
{
    for (std::size_t i = 0; i + chunkLength <= samples.size(); i += chunkLength)
        each(&samples[i]);
}

void analyse(Analyser& analyser, const std::vector<float>& samples, const float* second)
{
    for (std::size_t i = 0; i + blockLength <= samples.size(); i += blockLength)
        analyser.add(&samples[i], second == nullptr ? nullptr : second + i, blockLength,
                     [](const Estimate& e) { sink = e.tone.amplitude; });
}

// Their making is not part of the cost: it designs filters.
Analyser& theAnalyser(std::size_t which)
{
    static std::array<Analyser, 2> both{Analyser(48000.0), Analyser(48000.0)};
    return both[which];
}

struct Stage
{
    const char* name;
    const char* what;
    std::function<void(const std::vector<float>&)> run;
    const targets::Target* target = nullptr;
};

const std::vector<Stage>& stages()
{
    static const std::vector<Stage> all{
        {"tone", "tone, harmonics, hum and constant: sums and fits",
         [](const std::vector<float>& samples) {
             ToneTracker tracker(48000.0, 1.0);
             forChunks(samples, [&](const float* chunk) { tracker.add(chunk, folded(chunk)); });
             sink = tracker.estimate().amplitude;
         }},
        {"removal", "known lines taken out of the stream (tone, two orders, two of hum)",
         [](const std::vector<float>& samples) {
             LineRemover remove;
             LineSet lines;
             lines.line[0] = lines.line[1] = lines.line[2] = {0.1, 0.0};
             lines.line[firstMainsLine] = lines.line[firstMainsLine + 2] = {0.01, 0.0};
             remove.set(lines, {0.1, 0.0065, 0.0078}, 0.0);
             forChunks(samples, [&](const float* chunk) {
                 FoldedChunk folds = folded(chunk);
                 remove(folds);
                 sink = folds.even[0];
             });
         }},
        {"weighting", "A, C and Z of the stream, flat and A of what is left",
         [](const std::vector<float>& samples) {
             StreamFilters filters(48000.0);
             forChunks(samples, [&](const float* chunk) { sink = filters(chunk, {}).squaresA; });
         }},
        {"peak", "peak between samples, four times oversampled",
         [](const std::vector<float>& samples) {
             PeakInterpolator peak(48000.0);
             forChunks(samples, [&](const float* chunk) { sink = peak(chunk); });
         }},
        {"one", "**all of it: one microphone, the other channel its drive**",
         [](const std::vector<float>& samples) { analyse(theAnalyser(0), samples, samples.data()); },
         &targets::oneMicrophone},
        {"two", "**two microphones**",
         [](const std::vector<float>& samples) {
             analyse(theAnalyser(0), samples, samples.data());
             analyse(theAnalyser(1), samples, nullptr);
         },
         &targets::twoMicrophones},
    };
    return all;
}

} // namespace

std::string stagesTable()
{
    const auto samples = usualSamples(1.0);
    std::string table = "| Stage | ns a frame |\n|---|---|\n";
    for (const Stage& stage : stages()) {
        const double ns = 1e9 * leastSeconds([&] { stage.run(samples); }) / static_cast<double>(samples.size());
        table += fmt::format("| {} | {:.1f} |\n", stage.what, ns);
        if (stage.target != nullptr)
            targets::reached(*stage.target, ns, "Cost of each stage, below");
    }
    return table;
}

// "none" makes the samples and no more: what the others have to be held against.
bool runStage(const std::string& name, int seconds)
{
    if (name == "none") {
        sink = static_cast<double>(usualSamples(seconds).back());
        return true;
    }
    for (const Stage& stage : stages())
        if (stage.name == name) {
            stage.run(usualSamples(seconds));
            return true;
        }
    return false;
}

} // namespace couplet::speed
