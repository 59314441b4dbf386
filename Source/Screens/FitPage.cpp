// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitPage.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

constexpr const char* question = "How much does the coupler take away from the calibrator?";

} // namespace

FitPage::FitPage(FitControls& c, Controls& bench)
    : controls(c), readings(c, view), evidence(view), result(c, view), whatIf(c, view), simulated(bench),
      capture(c, view)
{
    setTitle("Fit");
    const std::initializer_list<juce::Component*> children{&heading,  &calibrator, &microphone, &undo,
                                                           &readings, &besideCard, &evidence,   &capture,
                                                           &why,      &whatIf,     &result,     &answer};
    for (auto* child : children)
        addAndMakeVisible(child);
    addChildComponent(simulated);
    simulated.onHeight = [this] { resized(); };
    heading.setTitle(question);
    besideCard.setTitle("Card beside the table");
    answer.setTitle("Answer");
    calibrator.onClick = [this] { calibratorMenu().open(calibrator); };
    microphone.onClick = [this] { microphoneMenu().open(microphone); };
    undo.onClick = [this] { controls.undoFit(); };
    readings.onPaste = [this] { paste(); };
    readings.onTableFile = [this] { askTableFile(); };
    result.onWhy = [this] { openWhy(beside != Beside::why); };
    result.onWhatIf = [this] { openWhatIf(beside != Beside::whatIf); };
    result.onBare = [this] {
        if (onReference)
            onReference();
    };
    why.onClose = [this] { openWhy(false); };
    whatIf.onClose = [this] { openWhatIf(false); };
    capture.onFlashEnds = [this] {
        showParts();
        resized();
    };
    const auto copies = [this](const std::string& number) { copy(number); };
    readings.table.onCopy = evidence.onCopy = result.words.onCopy = result.stored.onCopy = copies;
    capture.large.onCopy = why.text.onCopy = whatIf.answers.text.onCopy = copies;
    picker.onTypedPath = [this](const FilePicker::Request& request) {
        readings.ask({.title = request.title,
                      .fields = {{"path", "", "/folder/readings.csv"}},
                      .take = [this](const std::vector<std::string>& typed) {
                          if (trimmed(typed[0]).empty())
                              return std::string("Which file? Type its path.");
                          picker.typed(typed[0]);
                          return std::string();
                      }});
    };
    showParts();
}

void FitPage::show(const FitView& next)
{
    if (seen && next.revision == view.revision)
        return;
    const bool armed = next.capture != FitCaptureState::off, was = view.capture != FitCaptureState::off;
    if (seen && next.kept != view.kept)
        capture.flash();
    view = next;
    seen = true;
    if (armed && !was)
        beside = Beside::evidence;
    if (!isVisible())
        return; // it is drawn when it opens
    showParts();
    resized();
    if (!isShowing() || armed == was)
        return;
    if (armed)
        capture.large.grabKeyboardFocus(); // so that the space bar and N are heard
    else
        readings.table.grabKeyboardFocus();
}

void FitPage::show(const LiveView& live)
{
    simulated.show(live);
    if (simulated.heightFor() != barShown)
        resized();
}

void FitPage::visibilityChanged()
{
    if (!isVisible())
        return;
    showParts();
    resized();
}

void FitPage::showParts()
{
    const bool armed = view.capture != FitCaptureState::off;
    const bool capturing = armed || capture.isFlashing(); // a single reading is told of before the plot comes back
    evidence.setVisible(beside == Beside::evidence && !capturing);
    capture.setVisible(beside == Beside::evidence && capturing);
    why.setVisible(beside == Beside::why);
    whatIf.setVisible(beside == Beside::whatIf);
}

void FitPage::choose(Beside next)
{
    if (beside == Beside::whatIf && next != beside)
        controls.askWhatIf({});
    beside = next;
    showParts();
    resized();
}

void FitPage::endCapture()
{
    if (view.capture != FitCaptureState::off)
        controls.captureFitReadings(false);
}

void FitPage::openWhy(bool open)
{
    choose(open ? Beside::why : Beside::evidence);
    if (isShowing())
        open ? why.text.grabKeyboardFocus() : readings.table.grabKeyboardFocus();
}

void FitPage::openWhatIf(bool open)
{
    choose(open ? Beside::whatIf : Beside::evidence);
    if (open)
        whatIf.open();
    else if (isShowing())
        readings.table.grabKeyboardFocus();
}

void FitPage::resized()
{
    const float width = static_cast<float>(getWidth()) - 2.0f * measures.margin();
    if (width <= 0.0f || !isVisible())
        return;
    const float margin = measures.margin(), gap = measures.between(8, 16);
    barShown = simulated.heightFor();
    headTop = placeBars({{simulated, barShown}}, margin, 10.0f, width);
    headTop = barShown > 0.0f ? headTop - measures.between(3, 10) : 0.0f;
    placeTop(headTop, width);
    const float top = headTop + headHeight(), bottom = static_cast<float>(getHeight()) - measures.between(6, 11);
    const float lower = measures.between(126, 150), upper = bottom - lower - gap - top;
    const float share = 0.565f + (0.5365f - 0.565f) * measures.ease; // between() is for pixels
    const float left = std::round(width * share), right = width - left - gap;
    readings.setBounds(whole(margin, top, left, upper));
    const auto besideArea = whole(margin + left + gap, top, right, upper);
    for (juce::Component* part : {static_cast<juce::Component*>(&besideCard), static_cast<juce::Component*>(&evidence),
                                  static_cast<juce::Component*>(&capture), static_cast<juce::Component*>(&why),
                                  static_cast<juce::Component*>(&whatIf)})
        part->setBounds(besideArea);
    result.setBounds(whole(margin, bottom - lower, width, lower));
    readings.show(measures);
    if (evidence.isVisible())
        evidence.show(measures);
    if (capture.isVisible())
        capture.show(measures);
    if (why.isVisible())
        why.show(whyParagraphs(view), measures);
    if (whatIf.isVisible())
        whatIf.show(measures);
    result.show(measures);
    Pen pen(*fonts);
    pen.box(besideCard.getLocalBounds().toFloat().reduced(0.5f), 6.0f, colours::card, colours::edge);
    besideCard.setPicture(std::move(pen.picture));
    drawTexts();
}

// The bar above takes the room of what the readings are.
float FitPage::headHeight() const
{
    return barShown > 0.0f ? measures.between(30, 71) : measures.between(48, 71);
}

TextStyle FitPage::questionStyle() const
{
    return {measures.between(14.5f, 16), true};
}

// What belongs to the whole page stands at the right of its heading.
void FitPage::placeTop(float top, float width)
{
    const bool narrow = measures.width < 1000.0f;
    const float size = measures.between(12, 13), height = measures.between(21, 26),
                middle = top + measures.between(17, 28);
    const TextStyle style{size};
    const Pen pen(*fonts);
    const bool builtIn = view.input.settings.microphoneBuiltIn;
    microphone.setText(narrow    ? (builtIn ? "built in" : "leaves")
                       : builtIn ? "microphone built in"
                                 : "microphone leaves");
    microphone.setTooltip("whether the bench's microphone can leave its coupler; what is shared by all fittings");
    undo.setTooltip(juce::String::fromUTF8((view.undoText.empty() ? "Ctrl+Z" : view.undoText + " (Ctrl+Z)").c_str()));
    undo.setEnabled(view.canUndo);
    float right = measures.margin() + width + 5.0f;
    const auto place = [&](Chip& chip) {
        chip.setSize(size);
        chip.placeRight(right, middle, height);
        right = static_cast<float>(chip.getX()) - measures.between(0, 8);
    };
    place(undo);
    place(microphone);
    // Beside the question, what is free.
    const float free = right - measures.margin() - pen.width(question, questionStyle()) - 34.0f;
    const float room = std::max(free, measures.between(88, 190));
    calibrator.setText(view.calibrator.empty() ? "choose a calibrator"
                                               : pen.shortenedAroundNumber(view.calibrator, room, style));
    calibrator.setTitle(juce::String::fromUTF8(("Calibrator: " + view.calibrator).c_str()));
    place(calibrator);
}

void FitPage::drawTexts()
{
    heading.setBounds(whole(0.0f, headTop, static_cast<float>(getWidth()), headHeight()));
    Pen pen(*fonts);
    const float margin = measures.margin(), base = measures.between(22, 33), second = measures.between(40, 55);
    const bool low = static_cast<float>(heading.getHeight()) < second + 4.0f; // one line, and an answer takes its place
    const TextStyle head = questionStyle(), grey{measures.between(12, 13), false, colours::grey};
    float room = static_cast<float>(calibrator.getX()) - margin - 6.0f;
    if (low && !answerWords.empty())
        pen.left(pen.shortened(answerWords, room, head), margin, base, room, head);
    else
        pen.left(pen.width(question, head) <= room ? question : "How much does the coupler take away?", margin, base,
                 room, head);
    const std::string direct = "Direct: a bare microphone in the calibrator, one group a fitting. Through: the same "
                               "microphone behind a coupler like this one.";
    room = static_cast<float>(getWidth()) - 2.0f * margin - 130.0f;
    if (!low)
        pen.left(pen.width(direct, grey) <= room
                     ? direct
                     : "Direct: a bare microphone in the calibrator. Through: the same behind a "
                       "coupler like this.",
                 margin, second, room, grey);
    heading.setPicture(std::move(pen.picture));

    answer.setBounds(
        whole(static_cast<float>(getWidth()) - margin - 128.0f, headTop + measures.between(27, 41), 128.0f, 18.0f));
    Pen said(*fonts);
    const TextStyle ink{measures.between(12, 13)};
    if (!low)
        said.right(said.shortened(answerWords, 127.0f, ink), 128.0f, 14.0f, 127.0f, ink);
    answer.setPicture(std::move(said.picture));
}

FitMenu FitPage::calibratorMenu()
{
    FitMenu menu;
    for (const auto& name : view.calibrators)
        menu.add(
            name, [this, name] { controls.chooseFitCalibrator(name); }, name == view.calibrator);
    menu.add(
        "no calibrator", [this] { controls.chooseFitCalibrator(""); }, view.calibrator.empty());
    return menu;
}

FitMenu FitPage::microphoneMenu()
{
    FitMenu menu;
    const bool builtIn = view.input.settings.microphoneBuiltIn;
    menu.add(
        "built in: another coupler of its kind carries the readings", [this] { controls.setMicrophoneBuiltIn(true); },
        builtIn);
    menu.add(
        "it leaves its coupler, and goes bare into the calibrator", [this] { controls.setMicrophoneBuiltIn(false); },
        !builtIn);
    menu.addSection("shared by all fittings");
    menu.add(fmt::format("from one coupler to another u {} dB, adapter u {} dB",
                         levelText(view.input.settings.u_transfer_dB), levelText(view.input.settings.u_adapter_dB)),
             [this] { readings.askUncertainties(); });
    return menu;
}

} // namespace couplet
