// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/CouplerWords.h"
#include "Screens/Measures.h"

#include <array>
#include <functional>
#include <optional>

// Purpose: both versions of a coupler side by side, with dates and figures, and what can become of them, in words.
// Keys:    1, 2 and 3 answer as the buttons from above; left and right go through them, Return takes, escape decides
//          nothing.
// Thread:  message.
namespace couplet {

class ConflictSheet : public juce::Component
{
public:
    ConflictSheet();

    void ask(const ProfileQuestion&);
    const std::optional<ProfileQuestion>& question() const { return asked; }
    void setMeasures(const Measures& m) { measures = m; }

    std::function<void(const ProfileQuestion&, ProfileAnswer)> onAnswer;
    std::function<void()> onClose;

    void paint(juce::Graphics& g) override { g.fillAll(colours::paper); }
    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;

private:
    bool isNew() const { return asked && asked->state == ProfileState::notInLibrary; }
    void answer(std::size_t index);
    std::string consequence(std::size_t index) const;
    void drawVersion(Pen&, juce::Rectangle<float>, const std::string& title, const Coupler&,
                     const Coupler* other) const;

    juce::SharedResourcePointer<Fonts> fonts;
    Measures measures;
    std::optional<ProfileQuestion> asked;
    Canvas canvas;
    std::array<std::unique_ptr<Chip>, 3> answers;
    Chip close{Chip::Kind::link, "close", 13.0f};
};

} // namespace couplet
