// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/AsideBar.h"

namespace couplet {
namespace {

constexpr int longestReason = 120; // as the history takes it

} // namespace

AsideBar::AsideBar()
{
    addAndMakeVisible(act);
    addChildComponent(reason);
    addChildComponent(yes);
    addChildComponent(no);
    reason.setInputRestrictions(longestReason);
    reason.setHint("reason");
    reason.onReturnKey = [this] { take(); };
    reason.onEscapeKey = [this] { leave(); };
    reason.setTooltip("such as: gain moved");
    act.setTooltip("the selected reference no longer counts, and stays in the history (key Delete)");
    act.onClick = [this] { start(); };
    yes.onClick = [this] { take(); };
    no.onClick = [this] { leave(); };
}

void AsideBar::show(const HistoryPoint* selected, bool allowed, float textSize)
{
    const std::string now = selected != nullptr ? selected->takenAt : std::string();
    isAside = selected != nullptr && !selected->setAside.empty();
    isAllowed = selected != nullptr && allowed;
    act.setText(isAside ? "put it back" : "set one aside");
    act.setEnabled(isAllowed);
    for (Chip* chip : {&act, &yes, &no})
        chip->setSize(textSize);
    if (edits() && (now != of || !isAllowed || isAside))
        leave(); // what the reason was typed for is no longer selected
    of = now;
    resized();
}

void AsideBar::start()
{
    if (!isAllowed)
        return;
    if (isAside) {
        if (onBack)
            onBack();
        return;
    }
    reason.setWords("");
    reason.setVisible(true);
    if (onEditing)
        onEditing();
    resized();
    if (reason.isShowing())
        reason.grabKeyboardFocus();
}

void AsideBar::take()
{
    const auto typed = reason.getText().trim().toStdString();
    if (typed.empty()) { // it stays open: without a reason nothing is set aside
        reason.setHint("why?");
        reason.repaint();
        return;
    }
    leave();
    if (onAside)
        onAside(typed);
}

void AsideBar::leave()
{
    if (!edits())
        return;
    const bool had = reason.hasKeyboardFocus(true);
    reason.setVisible(false);
    reason.setHint("reason");
    if (onEditing)
        onEditing();
    resized();
    if (had && act.isShowing())
        act.grabKeyboardFocus();
}

void AsideBar::resized()
{
    const float width = static_cast<float>(getWidth()), height = static_cast<float>(getHeight());
    act.setVisible(!edits());
    yes.setVisible(edits());
    no.setVisible(edits());
    act.placeRight(width, height / 2.0f, height);
    no.placeRight(width, height / 2.0f, height);
    yes.placeRight(static_cast<float>(no.getX()) - 2.0f, height / 2.0f, height);
    const float room = static_cast<float>(yes.getX()) - 6.0f;
    reason.setBounds(juce::Rectangle<float>(5.0f, 0.0f, std::max(0.0f, room - 5.0f), height).toNearestInt());
}

} // namespace couplet
