// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/SpectrumMeter.h"

#include "Signal/Sound.h"

#include <algorithm>

namespace couplet {

bool SpectrumMeter::add(std::span<const float> samples)
{
    bool isNew = false;
    while (!samples.empty()) {
        const auto bad = std::find_if_not(samples.begin(), samples.end(), isSound);
        const auto good = samples.first(static_cast<std::size_t>(bad - samples.begin()));
        isFresh = isFresh && good.empty();
        bank.add(good);
        isNew = analyser.add(good) || isNew;
        if (bad == samples.end())
            break;
        ++broken;
        restart();
        isNew = true;
        samples = samples.subspan(good.size() + 1);
    }
    return isNew;
}

void SpectrumMeter::restart()
{
    if (isFresh) // a run of broken samples costs no more than one
        return;
    isFresh = true;
    analyser.restart();
    bank.restart();
}

} // namespace couplet
