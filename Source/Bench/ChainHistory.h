// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Coupler.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

// Purpose: what a coupler's references say of its chain, microphone to input, whatever correction each was taken with.
// Rules:   a reference of the same calibrator at the same frequency is compared as if it had been taken with the
//          correction of the one it is compared with: offset plus correction is the chain's. One of another calibrator
//          or frequency lost something else to the coupler, and its offset is compared as it is.
//          A reference that was kept although it had moved begins a new run: what came before belongs to another state
//          of the chain. Set aside, it still begins one where the next that counts lies nearer to it than to the one
//          before it.
// Source:  method of this product.
// Units:   dB.
// Thread:  any but audio.
namespace couplet {

bool counts(const Reference&);

// The offset of `kept` as if it had been taken with the correction that `like` was taken with.
double offsetAs_dB(const Reference& kept, const Reference& like);

// Where the newest run begins; 0 without a step.
std::size_t runBegin(const std::vector<Reference>&);

// Of the newest run, those that count, oldest first, as if taken with the correction of `like`.
std::vector<double> runOffsets_dB(const std::vector<Reference>&, const Reference& like);

// The coupler's correction is another than the one in the reference: a sentence with both; absent where they are the
// same to 0.005 dB, where the coupler's is for another frequency, and where the reference tells of none.
std::optional<std::string> correctionChanged(const Coupler&, const Reference&);

} // namespace couplet
