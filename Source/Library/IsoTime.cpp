// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/IsoTime.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

using namespace std::chrono;

// Takes fixed parts off the front of a text; once something does not fit, `good` stays false.
struct Parts
{
    std::string_view rest;
    bool good = true;

    int digits(std::size_t count, int most)
    {
        const auto isDigit = [](char c) { return c >= '0' && c <= '9'; };
        const auto part = rest.substr(0, count);
        if (part.size() < count || !std::all_of(part.begin(), part.end(), isDigit)) {
            good = false;
            return 0;
        }
        int value = 0;
        for (const char c : part)
            value = 10 * value + (c - '0');
        rest.remove_prefix(count);
        good = good && value <= most;
        return value;
    }

    bool startsWith(char c) const { return !rest.empty() && rest.front() == c; }

    void sign(char c)
    {
        good = good && startsWith(c);
        if (good)
            rest.remove_prefix(1);
    }
};

sys_days date(Parts& parts)
{
    const auto y = parts.digits(4, 9999);
    parts.sign('-');
    const auto m = parts.digits(2, 12);
    parts.sign('-');
    const auto d = parts.digits(2, 31);
    const year_month_day day{year{y}, month{static_cast<unsigned>(m)}, std::chrono::day{static_cast<unsigned>(d)}};
    parts.good = parts.good && day.ok();
    return parts.good ? sys_days{day} : sys_days{};
}

milliseconds timeOfDay(Parts& parts)
{
    const hours h{parts.digits(2, 23)};
    parts.sign(':');
    const minutes m{parts.digits(2, 59)};
    parts.sign(':');
    const seconds s{parts.digits(2, 60)}; // 60: a leap second
    milliseconds fraction{0};
    if (parts.startsWith('.')) {
        parts.sign('.');
        milliseconds unit{100};
        do {
            fraction += parts.digits(1, 9) * unit;
            unit /= 10;
        } while (parts.good && !parts.rest.empty() && parts.rest.front() >= '0' && parts.rest.front() <= '9');
    }
    return h + m + s + fraction;
}

minutes zone(Parts& parts)
{
    if (parts.startsWith('Z')) {
        parts.sign('Z');
        return minutes{0};
    }
    const bool west = parts.startsWith('-');
    parts.sign(west ? '-' : '+');
    const hours h{parts.digits(2, 23)};
    parts.sign(':');
    const minutes offset = h + minutes{parts.digits(2, 59)};
    return west ? -offset : offset;
}

} // namespace

std::optional<Instant> instantFrom(std::string_view text)
{
    Parts parts{text};
    const auto day = date(parts);
    parts.sign('T');
    const auto time = timeOfDay(parts);
    const auto offset = zone(parts);
    if (!parts.good || !parts.rest.empty())
        return std::nullopt;
    return day + time - offset;
}

std::string textOf(Instant instant)
{
    const auto day = floor<days>(instant);
    const year_month_day ymd{day};
    const hh_mm_ss time{floor<seconds>(instant) - day};
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", static_cast<int>(ymd.year()),
                       static_cast<unsigned>(ymd.month()), static_cast<unsigned>(ymd.day()), time.hours().count(),
                       time.minutes().count(), time.seconds().count());
}

bool isIsoDate(std::string_view text)
{
    Parts parts{text};
    date(parts);
    return parts.good && parts.rest.empty();
}

} // namespace couplet
