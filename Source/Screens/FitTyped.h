// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"

#include <optional>
#include <string>

// Purpose: numbers as a form prints them and has them back. One whose text is left as it was printed stays the number
//          it was, to its last bit.
// Units:   dB; two to four decimals.
// Thread:  any but audio.
namespace couplet {

struct PrintedNumber
{
    PrintedNumber() = default; // nothing is printed
    explicit PrintedNumber(std::optional<double>);
    bool isLeft(const std::string& typed) const; // as it was printed

    std::optional<double> value;
    std::string text;
};

Outcome<double> typedLevel(const std::string& typed, const PrintedNumber& before);

// 0 to `most_dB`, with a plus-minus sign or without; empty: absent. The refusal begins with `what`.
Outcome<std::optional<double>> typedSpread(const std::string& typed, const PrintedNumber& before, const char* what,
                                           double most_dB);

} // namespace couplet
