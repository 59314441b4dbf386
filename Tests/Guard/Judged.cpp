// SPDX-License-Identifier: GPL-3.0-or-later
#include "Judged.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet::tests {
namespace {

constexpr double loud_dBFS = -12.0, leastLoud_s = 0.2, late_s = 0.5;

// When and for how long 10 ms of a stream stand above -12 dBFS.
class Meter
{
public:
    explicit Meter(double rate) : rate_Hz(rate), window(static_cast<int>(rate / 100.0)) {}
    void add(const float* x, const float* y, int samples)
    {
        for (int i = 0; i < samples; ++i) {
            a += static_cast<double>(x[i]) * static_cast<double>(x[i]);
            b += static_cast<double>(y[i]) * static_cast<double>(y[i]);
            ++now;
            if (++filled < window)
                continue;
            if (10.0 * std::log10(2.0 * std::max(a, b) / window + 1e-20) > loud_dBFS) {
                loud_s += 0.01;
                last_s = static_cast<double>(now) / rate_Hz;
                if (first_s < 0.0)
                    first_s = last_s;
            }
            a = b = 0.0;
            filled = 0;
        }
    }
    double first_s = -1.0, last_s = -1.0, loud_s = 0.0;

private:
    double rate_Hz, a = 0.0, b = 0.0;
    int window, filled = 0;
    long now = 0;
};

// act(left, right): false ends it.
template <class Act> void run(Loop& loop, const Act& act)
{
    std::vector<float> left(static_cast<std::size_t>(loop.block)), right(left.size());
    for (long done = 0; static_cast<double>(done) < loop.seconds * loop.rate_Hz; done += loop.block) {
        loop.hear(left.data(), right.data(), loop.block);
        if (!act(left.data(), right.data()))
            return;
        loop.play(left.data(), right.data(), loop.block);
    }
}

std::unique_ptr<Loop> made(std::uint64_t seed, bool other, const LoopWish& wish)
{
    return other ? otherLoop(seed, wish) : roomLoop(seed, wish);
}

double median(std::vector<double> values)
{
    if (values.empty())
        return 0.0;
    std::sort(values.begin(), values.end());
    return values[values.size() / 2];
}

double worst(const std::vector<double>& values)
{
    return values.empty() ? 0.0 : *std::max_element(values.begin(), values.end());
}

} // namespace

LoopOutcome guarded(std::uint64_t seed, bool other, const LoopWish& wish, std::string* details)
{
    LoopOutcome outcome;
    {
        const auto loop = made(seed, other, wish);
        Meter meter(loop->rate_Hz);
        run(*loop, [&](float* left, float* right) {
            meter.add(left, right, loop->block);
            return meter.loud_s < leastLoud_s;
        });
        outcome.isLoud = meter.loud_s >= leastLoud_s && meter.first_s < loop->seconds - 1.2;
        if (details != nullptr)
            *details = loop->kind + ": " + loop->details;
        if (!outcome.isLoud && !wish.stable)
            return outcome;
    }
    const auto loop = made(seed, other, wish);
    LoopGuard guard;
    guard.prepare(loop->rate_Hz, loop->block);
    Meter heard(loop->rate_Hz), played(loop->rate_Hz);
    double now_s = 0.0;
    run(*loop, [&](float* left, float* right) {
        heard.add(left, right, loop->block);
        float* both[] = {left, right};
        guard.process(both, 2, loop->block);
        played.add(left, right, loop->block);
        now_s += loop->block / loop->rate_Hz;
        return !guard.muted();
    });
    outcome.muted = guard.muted();
    outcome.wasLoud = heard.loud_s >= leastLoud_s;
    const double passed_s = heard.first_s < 0.0 ? now_s : heard.first_s;
    outcome.silent_s = std::max(played.last_s, passed_s) - passed_s;
    outcome.decided_s = now_s - passed_s;
    outcome.output_s = played.loud_s;
    outcome.asked = guard.asked();
    return outcome;
}

SoundOutcome guarded(const Sound& sound)
{
    LoopGuard guard;
    guard.prepare(sound.rate_Hz, sound.block);
    std::vector<float> left(static_cast<std::size_t>(sound.block)), right(left.size());
    long altered = 0;
    for (std::size_t done = 0; done + left.size() <= sound.samples.size(); done += left.size()) {
        std::copy_n(sound.samples.begin() + static_cast<std::ptrdiff_t>(done), left.size(), left.begin());
        right = left;
        float* both[] = {left.data(), right.data()};
        guard.process(both, 2, sound.block);
        for (std::size_t i = 0; i < left.size(); ++i)
            altered += std::abs(std::abs(left[i]) - std::abs(sound.samples[done + i])) > 0.0f;
    }
    return {guard.muted(), guard.asked(), static_cast<double>(altered) / sound.rate_Hz};
}

LoopRows loopRows(int count, std::uint64_t firstSeed, bool other, bool tells)
{
    LoopRows rows;
    std::uint64_t seed = firstSeed;
    for (int have = 0; have < count; ++seed) {
        std::string details;
        const LoopOutcome o = guarded(seed, other, {}, &details);
        if (!o.isLoud)
            continue;
        ++have;
        LoopRow& row = rows[details.substr(0, details.find(':'))];
        ++row.count;
        row.muted += o.muted;
        row.missed += !o.muted && o.wasLoud;
        row.keptQuiet += !o.muted && !o.wasLoud;
        if (o.muted) {
            row.silent_s.push_back(o.silent_s);
            row.decided_s.push_back(o.decided_s);
            row.silentLate += o.silent_s > late_s;
            row.decidedLate += o.decided_s > late_s;
        }
        if (tells && (!o.muted || o.decided_s > late_s || o.silent_s > 0.4))
            fmt::print("{} {} silent {:.2f} decided {:.2f} asked {} {} {} | {}\n", seed,
                       o.muted     ? "late"
                       : o.wasLoud ? "MISSED"
                                   : "quiet",
                       o.silent_s, o.decided_s, o.asked.turns, o.asked.silences, o.asked.pulses, details);
    }
    return rows;
}

SoundRows soundRows(int each, std::uint64_t firstSeed, bool other, bool tells)
{
    SoundRows rows;
    for (int kind = 0; kind < (other ? otherSoundKinds() : soundKinds()); ++kind)
        for (int i = 0; i < each; ++i) {
            const auto seed = firstSeed + static_cast<std::uint64_t>(i);
            const SoundOutcome o = guarded(other ? otherSound(kind, seed) : sound(kind, seed));
            const bool promised = other ? isPromisedOfOthers(kind) : isPromised(kind);
            for (const std::string name : {other ? otherSoundName(kind) : soundName(kind), ""}) {
                if (name.empty() && !promised)
                    continue;
                SoundRow& row = rows[name];
                ++row.count;
                row.muted += o.muted;
                row.turned += o.asked.turns > 0;
                row.silenced += o.asked.silences > 0;
                row.altered_s += o.altered_s;
                row.most_s = std::max(row.most_s, o.altered_s);
            }
            if (tells && o.muted)
                fmt::print("FALSE {} {} asked {} {} {} block {} rate {}\n",
                           other ? otherSoundName(kind) : soundName(kind), seed, o.asked.turns, o.asked.silences,
                           o.asked.pulses, (other ? otherSound(kind, seed) : sound(kind, seed)).block,
                           (other ? otherSound(kind, seed) : sound(kind, seed)).rate_Hz);
        }
    return rows;
}

LoopRow sum(const LoopRows& rows)
{
    LoopRow all;
    for (const auto& [name, row] : rows) {
        all.count += row.count;
        all.muted += row.muted;
        all.missed += row.missed;
        all.keptQuiet += row.keptQuiet;
        all.silentLate += row.silentLate;
        all.decidedLate += row.decidedLate;
        all.silent_s.insert(all.silent_s.end(), row.silent_s.begin(), row.silent_s.end());
        all.decided_s.insert(all.decided_s.end(), row.decided_s.begin(), row.decided_s.end());
    }
    return all;
}

SoundRow sum(const SoundRows& rows)
{
    SoundRow all;
    for (const auto& [name, row] : rows) {
        if (name.empty())
            continue;
        all.count += row.count;
        all.muted += row.muted;
        all.turned += row.turned;
        all.silenced += row.silenced;
        all.altered_s += row.altered_s;
        all.most_s = std::max(all.most_s, row.most_s);
    }
    return all;
}

std::string text(const LoopRows& rows)
{
    std::string table =
        "| loop | count | muted | missed | kept quiet | silent: median, worst (s) | silent > 0.5 s | decided: "
        "median, worst (s) | decided > 0.5 s |\n|---|---|---|---|---|---|---|---|---|\n";
    const auto line = [&](const std::string& name, const LoopRow& r) {
        table += fmt::format("| {} | {} | {} | {} | {} | {:.2f}, {:.2f} | {} | {:.2f}, {:.2f} | {} |\n", name, r.count,
                             r.muted, r.missed, r.keptQuiet, median(r.silent_s), worst(r.silent_s), r.silentLate,
                             median(r.decided_s), worst(r.decided_s), r.decidedLate);
    };
    for (const auto& [name, row] : rows)
        line(name, row);
    line("**all**", sum(rows));
    return table;
}

std::string text(const SoundRows& rows)
{
    std::string table =
        "| sound | count | muted | turned | silenced | altered: mean, most (s) |\n|---|---|---|---|---|---|\n";
    const auto line = [&](const std::string& name, const SoundRow& r) {
        table += fmt::format("| {} | {} | {} | {} | {} | {:.3f}, {:.2f} |\n", name, r.count, r.muted, r.turned,
                             r.silenced, r.altered_s / r.count, r.most_s);
    };
    for (const auto& [name, row] : rows)
        if (!name.empty())
            line(name, row);
    line("**all**", sum(rows));
    if (const auto found = rows.find(""); found != rows.end())
        line("**calibrators, sweeps and music**", found->second);
    return table;
}

} // namespace couplet::tests
