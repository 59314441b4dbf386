// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ChainHistory.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double anotherTone_octaves = 0.5; // as Metrology/Offset tells a calibrator's tones apart, no source
constexpr double shown_dB = 0.005;          // less is not seen in two decimals

bool isAnotherTone(Hertz a, Hertz b)
{
    return !(std::abs(std::log2(a / b)) <= anotherTone_octaves);
}

// A calibrator that is typed has its level for a name: two of its levels are still one calibrator.
bool isTyped(const std::string& calibrator)
{
    return calibrator.rfind("typed: ", 0) == 0;
}

bool isSameSource(const Reference& a, const Reference& b)
{
    return (a.calibrator == b.calibrator || (isTyped(a.calibrator) && isTyped(b.calibrator))) &&
           !isAnotherTone(a.frequency, b.frequency);
}

bool beginsRun(const std::vector<Reference>& all, std::size_t step)
{
    if (counts(all[step]))
        return true;
    const auto at = all.begin() + static_cast<std::ptrdiff_t>(step);
    const auto next = std::find_if(at, all.end(), counts);
    const auto before = std::find_if(std::make_reverse_iterator(at), all.rend(), counts);
    if (next == all.end() || before == all.rend())
        return next != all.end();
    const auto far = [&](const Reference& other) { return std::abs(next->offset_dB - offsetAs_dB(other, *next)); };
    return far(all[step]) < far(*before);
}

std::string correctionText(double value_dB, bool none)
{
    return none ? std::string("none") : levelText(value_dB) + " dB";
}

} // namespace

bool counts(const Reference& reference)
{
    return reference.fitToUse && reference.setAside.empty();
}

double offsetAs_dB(const Reference& kept, const Reference& like)
{
    const auto then = kept.takenOff_dB(), now = like.takenOff_dB();
    return then && now && isSameSource(kept, like) ? kept.offset_dB + *then - *now : kept.offset_dB;
}

std::size_t runBegin(const std::vector<Reference>& all)
{
    for (std::size_t i = all.size(); i-- > 0;)
        if (all[i].moved_dB && beginsRun(all, i))
            return i;
    return 0;
}

std::vector<double> runOffsets_dB(const std::vector<Reference>& all, const Reference& like)
{
    std::vector<double> offsets;
    for (std::size_t i = runBegin(all); i < all.size(); ++i)
        if (counts(all[i]))
            offsets.push_back(offsetAs_dB(all[i], like));
    return offsets;
}

std::optional<std::string> correctionChanged(const Coupler& coupler, const Reference& reference)
{
    const auto was = reference.takenOff_dB();
    const auto& now = coupler.correction;
    if (!was || (now && now->frequency && isAnotherTone(*now->frequency, reference.frequency)))
        return std::nullopt;
    const double now_dB = now ? now->value_dB : 0.0;
    if (!(std::abs(*was - now_dB) >= shown_dB))
        return std::nullopt;
    return fmt::format("the reference in force used another correction: it was {} and is now {}; take a new reference",
                       correctionText(*was, *was == 0.0 && !reference.correction), correctionText(now_dB, !now));
}

} // namespace couplet
