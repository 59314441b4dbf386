// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/TextField.h"

#include <functional>
#include <string>

// Purpose: the bar at the foot of the chooser: what became of the last request with a way back, a question about a file
//          that is to be imported, or the field for a path.
// Units:   pixels; height 0: there is nothing to say.
// Thread:  message.
namespace couplet {

class SheetBar : public juce::Component
{
public:
    SheetBar();

    void show(const LibraryView&);
    void askForPath(const std::string& prompt, const std::string& suggested);
    bool asksForPath() const { return !prompt.empty(); }
    float heightFor(float width) const;

    std::function<void()> onHeight;
    std::function<void()> onUndo;
    std::function<void(bool goOn)> onImport;
    std::function<void()> onClose; // what was said is read
    std::function<void(const std::string&)> onPath;

    void takePath(); // as Return does
    void leave();    // as escape does: the path, the question, or what was said
    TextField path{"Path of the file", 13.0f};

    void resized() override;

private:
    enum class What { nothing, said, import, path };
    What what() const;
    std::string words() const;
    float wordsRoom(float width) const;

    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    Chip yes{Chip::Kind::solid, "undo", 13.0f}, no{Chip::Kind::link, "close", 13.0f};
    std::string said, undo, import, prompt;
    bool refused = false;
};

} // namespace couplet
