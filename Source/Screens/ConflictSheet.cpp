// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ConflictSheet.h"

#include "Library/Utf8.h"

#include <fmt/format.h>

namespace couplet {
namespace {

constexpr ProfileAnswer meanings[] = {ProfileAnswer::keepSessions, ProfileAnswer::takeLibrarys,
                                      ProfileAnswer::leaveBoth};
constexpr float inset = 16.0f, labelWidth = 116.0f;

} // namespace

ConflictSheet::ConflictSheet()
{
    setTitle("Two versions of a coupler");
    setOpaque(true);
    setWantsKeyboardFocus(true);
    canvas.setTitle("Session and library");
    addAndMakeVisible(canvas);
    for (std::size_t i = 0; i < answers.size(); ++i) {
        answers[i] = std::make_unique<Chip>(Chip::Kind::solid, "answer", 14.0f);
        answers[i]->onClick = [this, i] { answer(i); };
        addAndMakeVisible(*answers[i]);
    }
    addAndMakeVisible(close);
    close.onClick = [this] { onClose(); };
}

void ConflictSheet::ask(const ProfileQuestion& question)
{
    asked = question;
    answers[0]->setText(isNew() ? "1  Keep it in the library" : "1  Keep this session's in the library");
    answers[1]->setText("2  Take the library's");
    answers[2]->setText(isNew() ? "2  Leave it" : "3  Leave both");
    answers[1]->setVisible(!isNew());
    resized();
    if (isShowing())
        answers[0]->grabKeyboardFocus();
}

void ConflictSheet::answer(std::size_t index)
{
    if (asked)
        onAnswer(*asked, meanings[index]);
}

bool ConflictSheet::keyPressed(const juce::KeyPress& key)
{
    using Key = juce::KeyPress;
    const int code = key.getKeyCode();
    if (key.isKeyCode(Key::escapeKey))
        onClose();
    else if (code == '1' || code == Key::numberPad1)
        answer(0);
    else if (code == '2' || code == Key::numberPad2)
        answer(isNew() ? 2 : 1);
    else if ((code == '3' || code == Key::numberPad3) && !isNew())
        answer(2);
    else if (key.isKeyCode(Key::rightKey) || key.isKeyCode(Key::downKey))
        moveKeyboardFocusToSibling(true);
    else if (key.isKeyCode(Key::leftKey) || key.isKeyCode(Key::upKey))
        moveKeyboardFocusToSibling(false);
    else
        return false;
    return true;
}

std::string ConflictSheet::consequence(std::size_t index) const
{
    switch (meanings[index]) {
    case ProfileAnswer::keepSessions:
        if (isNew())
            return "every session finds it then";
        return asked->onlyInLibrary > 0 ? fmt::format("its {} that the session lacks stay in the history",
                                                      countText(asked->onlyInLibrary, "reference"))
                                        : "the library keeps its own before as an earlier version";
    case ProfileAnswer::takeLibrarys:
        return asked->onlyInSession > 0 ? fmt::format("this session's own {} would go; undo has all back",
                                                      countText(asked->onlyInSession, "reference"))
                                        : "no reference is lost by it";
    case ProfileAnswer::leaveBoth:
        return "this session goes on with its own";
    }
    return {};
}

void ConflictSheet::drawVersion(Pen& pen, juce::Rectangle<float> area, const std::string& title, const Coupler& coupler,
                                const Coupler* other) const
{
    pen.box(area.reduced(0.5f), 6.0f, colours::card, colours::edge);
    const float width = area.getWidth() - 2.0f * inset, x = area.getX() + inset;
    const TextStyle head{measures.between(16, 20), true};
    float y = area.getY() + measures.between(26, 34);
    pen.left(title, x, y, width, head);
    const TextStyle label{measures.between(12, 13), false, colours::grey}, plain{measures.between(13, 15)};
    const TextStyle strong{plain.size, true};
    const float pitch = measures.between(21, 28), room = width - labelWidth - 16.0f;
    y += measures.between(4, 8);
    for (const auto& line : versionLines(coupler, other)) {
        y += pitch;
        if (y > area.getBottom() - 8.0f)
            break;
        pen.left(line.label, x, y, labelWidth, label);
        if (line.differs)
            pen.mark(Mark::differs, x + labelWidth, y - 4.5f, 10.0f, colours::ink);
        pen.left(pen.shortened(line.value, room, line.differs ? strong : plain), x + labelWidth + 16.0f, y, room,
                 line.differs ? strong : plain);
    }
}

void ConflictSheet::resized()
{
    canvas.setBounds(getLocalBounds());
    const auto whole = getLocalBounds().toFloat();
    if (whole.isEmpty() || !asked)
        return;
    Pen pen(*fonts);
    const float margin = measures.margin(), width = whole.getWidth() - 2.0f * margin;
    const TextStyle head{measures.between(18, 22), true}, body{measures.between(13, 15)};
    close.placeRight(whole.getWidth() - margin + 5.0f, measures.between(25, 32), 26.0f);
    float y = measures.between(31, 40);
    const float headRoom = static_cast<float>(close.getX()) - margin - 12.0f;
    pen.left(pen.shortened(asked->session.name, headRoom, head), margin, y, headRoom, head);
    y += measures.between(22, 28);
    y += (body.size + 5.0f) *
         static_cast<float>(pen.paragraph(questionWords(*asked), margin, y, width, body.size + 5.0f, 3, body) - 1);
    y += measures.between(12, 18);

    const float line = measures.between(32, 40),
                answersTop = whole.getBottom() - measures.between(16, 26) - line * (isNew() ? 2.0f : 3.0f);
    juce::Rectangle<float> versions(margin, y, width, answersTop - y - measures.between(10, 18));
    const auto* library = asked->library ? &*asked->library : nullptr;
    if (library == nullptr) {
        drawVersion(pen, versions, "This session's", asked->session, nullptr);
    }
    else {
        const float gap = measures.between(10, 16);
        drawVersion(pen, versions.removeFromLeft((width - gap) / 2.0f), "This session's", asked->session, library);
        versions.removeFromLeft(gap);
        drawVersion(pen, versions, "The library's", *library, &asked->session);
    }
    float middle = answersTop + line / 2.0f;
    float widest = 0.0f;
    for (const auto& chip : answers)
        widest = std::max(widest, chip->isVisible() ? chip->wantedWidth() : 0.0f);
    for (std::size_t i = 0; i < answers.size(); ++i) {
        if (!answers[i]->isVisible())
            continue;
        answers[i]->setBounds(
            juce::Rectangle<float>(margin, middle - 0.5f * line + 2.0f, widest, line - 4.0f).toNearestInt());
        const float x = margin + widest + 14.0f, room = whole.getWidth() - margin - x;
        const TextStyle grey{13.0f, false, colours::grey};
        pen.left(pen.shortened(consequence(i), room, grey), x, middle + 4.5f, room, grey);
        middle += line;
    }
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
