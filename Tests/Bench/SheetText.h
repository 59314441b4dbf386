// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/FitSheet.h"

#include <string>

namespace couplet::tests {

// A sheet from its text, as a session reads it.
inline Outcome<FitSheet> sheetFrom(const std::string& text)
{
    const auto root = parsedJson(text, "sheet");
    if (!root)
        return root.fault();
    FirstFault faults("sheet");
    Fields fields(*root->as<JsonObject>(), "", faults);
    auto sheet = fitSheetFrom(fields);
    if (faults.fault())
        return *faults.fault();
    return sheet;
}

} // namespace couplet::tests
