// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>
#include <vector>

// Purpose: takes byte by byte, whole or with one fault, for the tests to write where they like.
namespace couplet::tests {

// Little and big endian numbers of `count` bytes.
std::string little(std::uint64_t number, int count);
std::string big(std::uint64_t number, int count);

struct WavOptions
{
    std::uint32_t tag = 1; // 1 integers, 3 floating point
    std::uint32_t channels = 1;
    std::uint32_t rate = 48000;
    std::uint32_t bits = 16;
};

std::string chunk(const std::string& id, const std::string& body); // WAV, padded
std::string wavFormat(const WavOptions&);                          // the 'fmt ' chunk
std::string wavOf(const WavOptions&, const std::string& samples);  // the whole file

struct AiffOptions
{
    std::string compression; // four characters; empty: plain AIFF
    std::uint32_t channels = 1;
    std::uint32_t frames = 0;
    std::uint32_t bits = 16;
    std::string rate = extended48000();

    static std::string extended48000();
};

std::string aiffChunk(const std::string& id, const std::string& body);
std::string aiffCommon(const AiffOptions&); // the 'COMM' chunk
std::string aiffOf(const AiffOptions&, const std::string& samples);

} // namespace couplet::tests
