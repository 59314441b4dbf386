// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"

#include <functional>
#include <optional>

// Purpose: one line above the page while session and library hold different versions of a coupler and nobody has said
//          what is to become of them.
// Units:   pixels; height 0: there is no question.
// Thread:  message.
namespace couplet {

// The first that was not left as it is; null: none.
const ProfileQuestion* openQuestion(const LibraryView&);

class ConflictBar : public juce::Component
{
public:
    ConflictBar();

    void show(const LibraryView&);
    float heightFor() const { return question ? 38.0f : 0.0f; }
    std::function<void(const ProfileQuestion&)> onLook;
    std::function<void(const ProfileQuestion&)> onLeave;

    void resized() override;

private:
    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    Chip look{Chip::Kind::solid, "compare", 13.0f}, leave{Chip::Kind::link, "leave both", 13.0f};
    std::optional<ProfileQuestion> question;
    std::size_t more = 0;
};

} // namespace couplet
