// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

// Purpose: an amplitude that moves to its new value without a click: half a second along 3 t^2 - 2 t^3,
//          level at both ends.
// Units:   the amplitude's own. Lengths in samples.
// Thread:  any, one at a time (no allocation, no locks).
namespace couplet {

class Glide
{
public:
    explicit Glide(int lengthInSamples) noexcept : length(lengthInSamples) {}

    void moveTo(double target) noexcept
    {
        from = now;
        to = target;
        left = length;
    }
    bool arrived() const noexcept { return left == 0; }

    double next() noexcept
    {
        if (left > 0) {
            --left;
            const double t = 1.0 - static_cast<double>(left) / length;
            now = left == 0 ? to : from + (to - from) * t * t * (3.0 - 2.0 * t);
        }
        return now;
    }

private:
    int length;
    int left = 0;
    double from = 0.0, to = 0.0, now = 0.0;
};

} // namespace couplet
