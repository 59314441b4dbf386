// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/ReferencePage.h"
#include "States.h"

#include <string>
#include <vector>

// Purpose: views of every state that the Reference page has to show. The numbers are worked out by the Bench from the
//          sketch's calibrator, tone and 24 references; none is written by hand.
namespace couplet {

struct NamedReference
{
    std::string name;
    LiveView live;
    ReferenceView view;
    ReferenceSheet::What sheet = ReferenceSheet::What::nothing;
    bool setsAside = false; // the line for a reason is open
};

void show(MainView&, const NamedReference&);

std::vector<NamedReference> referenceStates();
NamedReference referenceState(const std::string& name);

} // namespace couplet
