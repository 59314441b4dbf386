// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/Units.h"

#include <catch2/catch.hpp>

#include <concepts>
#include <type_traits>

using namespace couplet;

namespace {

template <class A, class B>
concept Addable = requires(A a, B b)
{
    a + b;
};
template <class A, class B>
concept Subtractable = requires(A a, B b)
{
    a - b;
};
template <class A, class B>
concept Divisible = requires(A a, B b)
{
    a / b;
};
template <class A, class B>
concept Comparable = requires(A a, B b)
{
    a < b;
};

// What must not compile: a voltage where an impedance is asked for, a bare number where a unit is.
static_assert(!std::convertible_to<Volts, Ohms> && !std::convertible_to<Ohms, Volts>);
static_assert(!std::constructible_from<Ohms, Volts> && !std::is_assignable_v<Ohms&, Volts>);
static_assert(!std::convertible_to<double, Volts> && !std::convertible_to<Volts, double>);
static_assert(!Addable<Volts, Ohms> && !Subtractable<Volts, Ohms> && !Divisible<Volts, Ohms>);
static_assert(!Addable<Volts, double> && !Comparable<Volts, Ohms> && !Comparable<Volts, double>);

// And what must, so that the lines above do not hold for want of any operator at all.
static_assert(std::constructible_from<Volts, double>);
static_assert(Addable<Volts, Volts> && Subtractable<Ohms, Ohms> && Comparable<Hertz, Hertz>);
static_assert(std::same_as<decltype(Volts(1.0) / Volts(2.0)), double>);

} // namespace

TEST_CASE("quantities of one unit add, scale, compare and divide to a plain ratio")
{
    CHECK(Volts(0.1) + Volts(0.2) == Volts(0.1 + 0.2));
    CHECK(2.0 * Ohms(12.0) - Ohms(4.0) == Ohms(20.0));
    CHECK(Hertz(500.0) / Hertz(250.0) == 2.0);
    CHECK(Kilopascals(98.6) < Kilopascals(101.325));
}
