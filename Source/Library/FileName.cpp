// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FileName.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>

namespace couplet {
namespace {

constexpr std::size_t longestSlug = 90;

// FNV-1a, 32 bits (public domain, Fowler, Noll and Vo); constants from memory.
std::uint32_t hashOf(const std::string& text)
{
    std::uint32_t hash = 2166136261u;
    for (const char c : text)
        hash = (hash ^ static_cast<unsigned char>(c)) * 16777619u;
    return hash;
}

bool isKept(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

// Spaces become '-', all else '_' and two hexadecimal digits a byte.
std::string slugOf(const std::string& name)
{
    std::string slug;
    for (const char c : name) {
        auto part = std::string(1, c == ' ' ? '-' : c);
        if (!isKept(c) && c != ' ' && c != '-')
            part = fmt::format("_{:02x}", static_cast<unsigned>(static_cast<unsigned char>(c)));
        if (slug.size() + part.size() > longestSlug)
            break;
        slug += part;
    }
    return slug;
}

} // namespace

std::string fileNameOf(const Item& item)
{
    auto kind = kindOf(item);
    std::replace(kind.begin(), kind.end(), ' ', '-');
    const auto& name = nameOf(item);
    return fmt::format("{}-{}-{:08x}.json", kind, slugOf(name), hashOf(name));
}

} // namespace couplet
