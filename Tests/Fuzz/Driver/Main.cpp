// SPDX-License-Identifier: GPL-3.0-or-later
//
// libFuzzer's way into one parser, that of the name COUPLET_FUZZED.
#include "Fuzz/Parsers.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    static const auto& all = couplet::fuzz::parsers();
    static const auto chosen =
        std::find_if(all.begin(), all.end(), [](const auto& parser) { return parser.name == COUPLET_FUZZED; });
    couplet::fuzz::hold(chosen != all.end(), "there is a parser of that name");
    chosen->read({reinterpret_cast<const char*>(data), size});
    return 0;
}
