// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Lists.h"

#include "Screens/MainView.h"

namespace couplet {

void openList(juce::PopupMenu list, juce::Component& beside, const std::function<void(int id)>& chosen)
{
    auto* window = beside.findParentComponentOfClass<MainView>();
    list.setLookAndFeel(&beside.getLookAndFeel());
    juce::Component::SafePointer<juce::Component> alive(&beside);
    list.showMenuAsync(juce::PopupMenu::Options().withTargetComponent(beside).withParentComponent(window),
                       [alive, chosen](int id) {
                           if (alive != nullptr && id > 0)
                               chosen(id);
                       });
}

} // namespace couplet
