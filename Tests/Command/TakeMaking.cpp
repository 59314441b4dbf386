// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/TakeMaking.h"

#include <algorithm>

namespace couplet::tests {

std::string little(std::uint64_t number, int count)
{
    std::string bytes;
    for (int i = 0; i < count; ++i)
        bytes += i < 8 ? static_cast<char>(number >> (8 * i) & 0xFF) : '\0';
    return bytes;
}

std::string big(std::uint64_t number, int count)
{
    auto bytes = little(number, count);
    std::reverse(bytes.begin(), bytes.end());
    return bytes;
}

std::string chunk(const std::string& id, const std::string& body)
{
    return id + little(body.size(), 4) + body + std::string(body.size() % 2, '\0');
}

std::string wavFormat(const WavOptions& o)
{
    const auto frame = o.channels * ((o.bits + 7) / 8);
    return chunk("fmt ", little(o.tag, 2) + little(o.channels, 2) + little(o.rate, 4) + little(o.rate * frame, 4) +
                             little(frame, 2) + little(o.bits, 2));
}

std::string wavOf(const WavOptions& options, const std::string& samples)
{
    return chunk("RIFF", "WAVE" + wavFormat(options) + chunk("data", samples));
}

// 48000 = 1.46484375 * 2^15: exponent 16383 + 15, significand 48000 * 2^48.
std::string AiffOptions::extended48000()
{
    return big(16383 + 15, 2) + big(std::uint64_t{48000} << 48, 8);
}

std::string aiffChunk(const std::string& id, const std::string& body)
{
    return id + big(body.size(), 4) + body + std::string(body.size() % 2, '\0');
}

std::string aiffCommon(const AiffOptions& o)
{
    auto body = big(o.channels, 2) + big(o.frames, 4) + big(o.bits, 2) + o.rate;
    if (!o.compression.empty())
        body += o.compression + std::string(2, '\0');
    return aiffChunk("COMM", body);
}

std::string aiffOf(const AiffOptions& options, const std::string& samples)
{
    const auto* kind = options.compression.empty() ? "AIFF" : "AIFC";
    return aiffChunk("FORM", kind + aiffCommon(options) + aiffChunk("SSND", big(0, 8) + samples));
}

} // namespace couplet::tests
