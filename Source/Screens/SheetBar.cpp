// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/SheetBar.h"

#include "Screens/CouplerWords.h"

#include <fmt/format.h>

namespace couplet {
namespace {

const TextStyle sentence{13.0f};
constexpr float pitch = 17.0f, textLeft = 34.0f, side = 12.0f, pathWidth = 300.0f;
constexpr int mostLines = 6;

std::string importWords(const ImportQuestion& question)
{
    auto text = fmt::format("{} holds {} that the library has otherwise: ", question.file,
                            countText(question.differing.size(), "item"));
    constexpr std::size_t most = 3;
    for (std::size_t i = 0; i < std::min(most, question.differing.size()); ++i)
        text += (i == 0 ? "" : "; ") + question.differing[i];
    if (question.differing.size() > most)
        text += fmt::format("; and {} more", question.differing.size() - most);
    text += fmt::format(". Import takes what the file says of {} and keeps every reference of both",
                        question.differing.size() == 1 ? "it" : "them");
    if (question.fresh > 0)
        text += fmt::format(", and adds the {} new", question.fresh);
    return text + ". Nothing is saved yet.";
}

} // namespace

SheetBar::SheetBar()
{
    addAndMakeVisible(canvas);
    addAndMakeVisible(yes);
    addAndMakeVisible(no);
    addChildComponent(path);
    canvas.setTitle("What became of the last request");
    path.onReturnKey = [this] { takePath(); };
    path.onEscapeKey = [this] { leave(); };
    path.setHint("/folder/file.json");
    yes.onClick = [this] {
        if (what() == What::path)
            takePath();
        else if (what() == What::import)
            onImport(true);
        else
            onUndo();
    };
    no.onClick = [this] { leave(); };
}

SheetBar::What SheetBar::what() const
{
    if (!prompt.empty())
        return What::path;
    if (!import.empty())
        return What::import;
    return said.empty() && undo.empty() ? What::nothing : What::said;
}

void SheetBar::show(const LibraryView& view)
{
    const auto nextImport = view.import ? importWords(*view.import) : std::string();
    if (said == view.said && undo == view.undo && import == nextImport && refused == view.refused)
        return;
    said = view.said;
    undo = view.undo;
    refused = view.refused;
    import = nextImport;
    if (onHeight)
        onHeight();
}

void SheetBar::askForPath(const std::string& text, const std::string& suggested)
{
    prompt = text;
    path.setWords(suggested);
    if (onHeight)
        onHeight();
    if (path.isShowing())
        path.grabKeyboardFocus();
}

void SheetBar::takePath()
{
    const auto typed = path.words();
    if (typed.empty())
        return;
    prompt.clear();
    if (onPath)
        onPath(typed);
    if (onHeight)
        onHeight();
}

void SheetBar::leave()
{
    switch (what()) {
    case What::path:
        prompt.clear();
        if (onHeight)
            onHeight();
        break;
    case What::import:
        onImport(false);
        break;
    case What::said:
    case What::nothing:
        onClose();
        break;
    }
}

std::string SheetBar::words() const
{
    switch (what()) {
    case What::path:
        return prompt;
    case What::import:
        return import;
    case What::said:
        return said.empty() ? fmt::format("undo brings back {}", undo) : said + (said.back() == '.' ? "" : ".");
    case What::nothing:
        break;
    }
    return {};
}

float SheetBar::wordsRoom(float width) const
{
    if (what() == What::path)
        return width - textLeft - side - pathWidth - 150.0f;
    const float chips = what() == What::import ? 156.0f : undo.empty() ? 70.0f : 130.0f;
    return width - textLeft - side - chips;
}

float SheetBar::heightFor(float width) const
{
    if (what() == What::nothing)
        return 0.0f;
    const int lines = std::min(mostLines, Pen(*fonts).linesFor(words(), wordsRoom(width), sentence));
    return std::max(36.0f, 13.0f + pitch * static_cast<float>(lines));
}

void SheetBar::resized()
{
    canvas.setBounds(getLocalBounds());
    Pen pen(*fonts);
    const auto area = getLocalBounds().toFloat();
    const auto now = what();
    if (now == What::nothing || area.isEmpty()) {
        canvas.setPicture({});
        return;
    }
    yes.setText(now == What::path ? "go on" : now == What::import ? "import it" : "undo");
    no.setText(now == What::said ? "close" : "leave");
    yes.setVisible(now != What::said || !undo.empty());
    path.setVisible(now == What::path);
    pen.box(area.reduced(0.5f), 6.0f, colours::card, now == What::import || refused ? colours::ink : colours::edge);
    const bool attention = now == What::import || (now == What::said && refused);
    if (attention)
        pen.mark(Mark::attention, side, area.getCentreY(), 13.0f, colours::ink);
    const float middle = area.getCentreY();
    no.placeRight(area.getRight() - 8.0f, middle, 26.0f);
    yes.placeRight(static_cast<float>(no.getX()) - 4.0f, middle, 26.0f);
    path.setBounds(
        juce::Rectangle<float>(static_cast<float>(yes.getX()) - 10.0f - pathWidth, middle - 13.0f, pathWidth, 26.0f)
            .toNearestInt());
    const float left = attention ? textLeft : side + 2.0f, room = wordsRoom(area.getWidth());
    const int lines = std::min(mostLines, pen.linesFor(words(), room, sentence));
    const float first = middle + 4.5f - 0.5f * pitch * static_cast<float>(lines - 1);
    pen.paragraph(words(), left, first, room, pitch, mostLines, sentence);
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
