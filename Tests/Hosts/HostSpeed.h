// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <juce_core/juce_core.h>

// Purpose: what plugins cost in one and the same host, as the tables of docs/performance.md. Times are the processor's, of
//          the audio thread alone; the least of many runs.
// Thread:  any but the message thread, which must be running.
namespace couplet::hosts {

// Beside an empty plugin, the example amplifier, a compressor and a reverb. `folders` hold the bundles.
bool printHostsTable(const juce::FileSearchPath& folders);
// Many instances of Couplet at once.
bool printInstancesTable(const juce::FileSearchPath& folders);

} // namespace couplet::hosts
