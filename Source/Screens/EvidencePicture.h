// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/EvidencePlot.h"
#include "Screens/Picture.h"

// Purpose: the plot of a fit's evidence: fittings as dots and earphones as squares with their ranges, the density of
//          what remains, and a dashed line for the result. What takes no part is hollow, what contradicts has a mark.
// Units:   pixels at scale 1.
// Thread:  message.
namespace couplet {

// `pointed`: an item, or the number of items for the density.
Picture evidencePicture(const std::vector<EvidenceItem>&, const CorrectionFit&, const EvidencePlot&,
                        std::optional<std::size_t> pointed, const Measures&, const Fonts&);

// The numbers of an item, or of the density: what it says, from, to, without it.
struct EvidenceNumber
{
    std::string what, text;
    double c_dB = 0.0; // where it stands in the plot
};
std::vector<EvidenceNumber> evidenceNumbers(const std::vector<EvidenceItem>&, const CorrectionFit&, std::size_t item);

} // namespace couplet
