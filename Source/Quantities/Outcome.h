// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <utility>
#include <variant>

// Purpose: a result that is either a value or a fault. Errors are values, never exceptions across rooms.
// Thread:  any.
namespace couplet {

// One clear sentence for a person: what is wrong, where, and the mend. No full stop is added later; write it whole.
struct Fault
{
    std::string sentence;
};

// Either a T or a Fault. Test it before use: `if (!outcome) return outcome.fault();`
template <class T> class [[nodiscard]] Outcome
{
public:
    Outcome(T value) : content(std::in_place_index<0>, std::move(value)) {}
    Outcome(Fault fault) : content(std::in_place_index<1>, std::move(fault)) {}

    explicit operator bool() const { return content.index() == 0; }
    const T& operator*() const& { return std::get<0>(content); }
    T& operator*() & { return std::get<0>(content); }
    T&& operator*() && { return std::get<0>(std::move(content)); }
    const T* operator->() const { return &std::get<0>(content); }
    T* operator->() { return &std::get<0>(content); }
    const Fault& fault() const { return std::get<1>(content); }

private:
    std::variant<T, Fault> content;
};

// For work that yields nothing but may fail: `Outcome<Done>`.
struct Done
{
};

} // namespace couplet
