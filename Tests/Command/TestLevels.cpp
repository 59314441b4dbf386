// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Options.h"
#include "Command/TakeMaking.h"
#include "Command/Verb.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <regex>
#include <string>
#include <unistd.h>
#include <vector>

using namespace couplet;
using namespace couplet::tests;

namespace {

// A second of a tone, then digital silence, at 8 kHz in 16 bits.
std::string toneThenSilence(int silence_s)
{
    std::string samples;
    for (int n = 0; n < 8000; ++n)
        samples += little(
            static_cast<std::uint16_t>(std::lround(8000.0 * std::sin(2.0 * std::numbers::pi * 1000.0 * n / 8000.0))),
            2);
    samples.append(static_cast<std::size_t>(2 * 8000 * silence_s), '\0');
    return wavOf({1, 1, 8000, 16}, samples);
}

std::string levelsOf(const std::string& bytes, std::vector<std::string> more)
{
    const auto path =
        std::filesystem::temp_directory_path() / ("couplet levels " + std::to_string(::getpid()) + ".wav");
    std::ofstream(path, std::ios::binary) << bytes;
    more.insert(more.begin(), path.string());
    const auto arguments = Arguments::from(*verbNamed("levels"), more);
    REQUIRE(arguments);
    const auto answer = runLevels(*arguments);
    std::filesystem::remove(path);
    REQUIRE(answer);
    return answer->text;
}

} // namespace

TEST_CASE("levels names drop-outs, cut peaks and samples beyond full scale")
{
    std::string zeros, cut, beyond;
    const auto add = [](std::string& to, double x) {
        to += little(std::bit_cast<std::uint32_t>(static_cast<float>(x)), 4);
    };
    for (int n = 0; n < 96000; ++n) {
        const double x = std::sin(2.0 * std::numbers::pi * 1000.04 * n / 48000.0);
        add(zeros, n > 24000 && n % 512 < 40 ? 0.0 : 0.1 * x);
        add(cut, 0.1 * std::clamp(x, -0.9, 0.9));
        add(beyond, 1.4 * x);
    }
    const WavOptions floats{3, 1, 48000, 32};
    CHECK(levelsOf(wavOf(floats, zeros), {}).find("drop-outs") != std::string::npos);
    CHECK(levelsOf(wavOf(floats, cut), {}).find("peaks are cut off") != std::string::npos);
    CHECK(levelsOf(wavOf(floats, beyond), {}).find("2.9 dB beyond full scale") != std::string::npos);
    CHECK(levelsOf(wavOf(floats, beyond), {}).find("clipped") == std::string::npos);
}

TEST_CASE("a take that ends in digital silence has no minimum, and says why")
{
    const std::string take = toneThenSilence(90), text = levelsOf(take, {});
    CAPTURE(text);
    CHECK(text.find("inf") == std::string::npos);
    CHECK_FALSE(std::regex_search(text, std::regex("-[0-9]{3}"))); // no level of a hundred dB below full scale
    CHECK(text.find("digital silence") != std::string::npos);
    const std::string json = levelsOf(take, {"--json"});
    CHECK(json.find("\"fast_min_db\": null") != std::string::npos);
    CHECK(json.find("\"slow_min_db\": null") != std::string::npos);
    CHECK(json.find("\"fast_max_db\": null") == std::string::npos);
}

TEST_CASE("a take that never falls silent has its minimum")
{
    const std::string json = levelsOf(toneThenSilence(0), {"--json"});
    CHECK(json.find("\"fast_min_db\": null") == std::string::npos);
    CHECK(json.find("digital silence") == std::string::npos);
}
