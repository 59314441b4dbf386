// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/DescriptionPage.h"

#include "Screens/Pen.h"

namespace couplet {
namespace {

struct Description
{
    const char* question;
    const char* purpose;
    const char* meanwhile;
    std::vector<const char*> commands; // one line each
};

Description descriptionOf(Page page)
{
    switch (page) {
    case Page::fit:
        return {
            "How much does the coupler take away from the calibrator?",
            "This page will find it from readings of a bare microphone in the calibrator, fitting by fitting, "
            "readings behind a coupler like this one, and earphones whose rating is known.",
            "It is not there yet. Meanwhile put the readings into a table, as the README has it, and let the command "
            "find the correction and keep it in the coupler:",
            {"couplet fit READINGS.csv --calibrator-uncertainty 0.15dB --coupler \"NAME\" --keep"}};
    case Page::earphones:
        return {"Does this earphone do what its maker says?",
                "This page will keep the earphones with their ratings, count insertions of each side, and show every "
                "one of them against the rating.",
                "It is not there yet. Meanwhile the command adds an earphone's file to the library, where this "
                "session finds it:",
                {"couplet library add EARPHONE.json", "couplet library list"}};
    case Page::record:
        return {"What was measured, and what does it rest on?",
                "This page will list every kept reading with the coupler, reference and drive that it rests on.",
                "It is not there yet. Meanwhile the command keeps the reading of a take in the library's record:",
                {"couplet read TAKE.wav --coupler \"NAME\" --earphone \"NAME\" --drive 123.2mV --across --keep"}};
    case Page::read:
    case Page::reference:
        break;
    }
    return {"", "", "", {}};
}

} // namespace

const char* footerOf(Page page)
{
    switch (page) {
    case Page::reference:
        return "A calibrator plays 94 dB or more. Seat it fully, wait for the steady mark, and take it off before an "
               "earphone goes in.";
    case Page::fit:
        return "A loose fit wanders from reading to reading. Press the adapter home, wait two seconds, then read.";
    case Page::record:
        return "A kept reading never changes. It can be set aside with a reason, and keeps what it rests on.";
    case Page::read:
    case Page::earphones:
        break;
    }
    return "Coupler levels are not free-field levels. Keep the earphone out of your ear while a test tone plays.";
}

DescriptionPage::DescriptionPage(Page p) : page(p)
{
    addAndMakeVisible(canvas);
    canvas.setTitle(descriptionOf(p).question);
}

void DescriptionPage::resized()
{
    canvas.setBounds(getLocalBounds());
    const Description text = descriptionOf(page);
    Pen pen(*fonts);
    const float margin = measures.margin(), width = static_cast<float>(getWidth()) - 2.0f * margin;
    const TextStyle body{measures.between(13, 14)}, command{measures.between(12, 13), false, colours::measured};
    const float inset = measures.between(16, 24), room = std::min(760.0f, width - 2.0f * inset);
    const float pitch = body.size + 7.0f;
    pen.left(text.question, margin, measures.between(26, 34), width, {measures.between(15, 16), true});

    const float top = measures.between(42, 54);
    const auto lines =
        static_cast<float>(pen.linesFor(text.purpose, room, body) + pen.linesFor(text.meanwhile, room, body));
    const auto commands = static_cast<float>(text.commands.size());
    const float height = 2.0f * inset + pitch * (lines + commands) + 12.0f;
    pen.box({margin + 0.5f, top + 0.5f, width - 1.0f, height}, 6.0f, colours::card, colours::edge);
    float y = top + inset + body.size;
    const float x = margin + inset;
    y += pitch * static_cast<float>(pen.paragraph(text.purpose, x, y, room, pitch, 20, body)) + 10.0f;
    y += pitch * static_cast<float>(pen.paragraph(text.meanwhile, x, y, room, pitch, 20, body)) + 6.0f;
    for (const char* line : text.commands) {
        pen.left(line, x, y, width - 2.0f * inset, command);
        y += pitch;
    }
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
