// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

// Purpose: points in time as the library's files keep them.
// Source:  ISO 8601, extended format: "2026-05-03T12:04:11Z", "2026-05-03T14:04:11.25+02:00".
// Thread:  any.
namespace couplet {

using Instant = std::chrono::sys_time<std::chrono::milliseconds>;

// Absent when the text is no such time or names no zone.
std::optional<Instant> instantFrom(std::string_view text);

// To the second, UTC: "2026-05-03T12:04:11Z".
std::string textOf(Instant);

// "2026-05-03".
bool isIsoDate(std::string_view text);

} // namespace couplet
