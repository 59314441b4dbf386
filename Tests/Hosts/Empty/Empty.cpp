// SPDX-License-Identifier: GPL-3.0-or-later
//
// An LV2 plugin that does nothing: what a host's own work costs. Hosts that process in place need no copy.
#include <lv2/core/lv2.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>

namespace {

using Ports = std::array<float*, 4>; // in, in, out, out

LV2_Handle instantiate(const LV2_Descriptor*, double, const char*, const LV2_Feature* const*)
{
    return new Ports{};
}

void connect(LV2_Handle self, std::uint32_t port, void* data)
{
    if (auto& ports = *static_cast<Ports*>(self); port < ports.size())
        ports[port] = static_cast<float*>(data);
}

void run(LV2_Handle self, std::uint32_t frames)
{
    const auto& ports = *static_cast<Ports*>(self);
    for (std::size_t c = 0; c < 2; ++c)
        if (ports[c] != ports[c + 2])
            std::copy_n(ports[c], frames, ports[c + 2]);
}

void cleanup(LV2_Handle self)
{
    delete static_cast<Ports*>(self);
}

const LV2_Descriptor descriptor{
    "https://couplet.example.org/lv2/empty", instantiate, connect, nullptr, run, nullptr, cleanup, nullptr};

} // namespace

extern "C" LV2_SYMBOL_EXPORT const LV2_Descriptor* lv2_descriptor(std::uint32_t index)
{
    return index == 0 ? &descriptor : nullptr;
}
