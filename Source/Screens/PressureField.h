// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Units.h"
#include "Screens/TextField.h"

#include <functional>
#include <optional>
#include <string>

// Purpose: a static pressure typed, in kPa where no unit is written. Return or leaving the field takes it; what is no
//          pressure is refused with a sentence and stays to be mended. An empty field means none.
// Units:   kPa; hPa, mbar and Pa are understood.
// Thread:  message.
namespace couplet {

class PressureField : public TextField
{
public:
    PressureField();

    void show(std::optional<Kilopascals>); // leaves alone what is being typed
    void take();                           // as Return does

    std::function<void(std::optional<Kilopascals>)> onPressure;
    std::function<void(const std::string&)> onRefusal; // empty: nothing is refused any more

private:
    std::string shown;
    bool refused = false;
};

} // namespace couplet
