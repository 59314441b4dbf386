// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ConflictBar.h"

#include "Screens/CouplerWords.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {

const ProfileQuestion* openQuestion(const LibraryView& view)
{
    const auto found =
        std::find_if(view.questions.begin(), view.questions.end(), [](const auto& q) { return !q.left; });
    return found == view.questions.end() ? nullptr : &*found;
}

ConflictBar::ConflictBar()
{
    addAndMakeVisible(canvas);
    addAndMakeVisible(look);
    addAndMakeVisible(leave);
    canvas.setTitle("Session and library");
    look.onClick = [this] {
        if (question)
            onLook(*question);
    };
    leave.onClick = [this] {
        if (question)
            onLeave(*question);
    };
}

void ConflictBar::show(const LibraryView& view)
{
    const auto* next = openQuestion(view);
    question = next != nullptr ? std::optional(*next) : std::nullopt;
    more = static_cast<std::size_t>(
        std::count_if(view.questions.begin(), view.questions.end(), [](const auto& q) { return !q.left; }));
    more -= more > 0 ? 1 : 0;
    resized();
}

void ConflictBar::resized()
{
    canvas.setBounds(getLocalBounds());
    Pen pen(*fonts);
    const auto area = getLocalBounds().toFloat();
    if (!question || area.isEmpty()) {
        canvas.setPicture({});
        return;
    }
    const bool isNew = question->state == ProfileState::notInLibrary;
    look.setText(isNew ? "keep it" : "compare");
    leave.setText(isNew ? "leave it" : "leave both");
    pen.box(area.reduced(0.5f), 6.0f, colours::card, colours::ink);
    const float middle = area.getCentreY();
    pen.mark(Mark::attention, 12.0f, middle, 13.0f, colours::ink);
    leave.placeRight(area.getRight() - 6.0f, middle, 26.0f);
    look.placeRight(static_cast<float>(leave.getX()) - 4.0f, middle, 26.0f);
    const TextStyle sentence{13.0f};
    const float left = 34.0f, room = static_cast<float>(look.getX()) - 10.0f - left;
    auto words = questionWords(*question);
    if (more > 0)
        words += fmt::format(" ({} more)", more);
    // The name alone is shortened, and never what is asked about it.
    const auto& name = question->session.name;
    const auto place = words.find(name);
    if (pen.width(words, sentence) > room && place != std::string::npos) {
        auto rest = words;
        rest.erase(place, name.size());
        words.replace(place, name.size(), pen.shortened(name, room - pen.width(rest, sentence) - 2.0f, sentence));
    }
    pen.left(pen.shortened(words, room, sentence), left, middle + 4.5f, room, sentence);
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
