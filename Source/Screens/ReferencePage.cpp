// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ReferencePage.h"

#include "Bench/HistoryCsv.h"
#include "Library/Folder.h"
#include "Screens/ReferenceWords.h"
#include "Screens/Words.h"

namespace couplet {
namespace {

using What = ReferenceSheet::What;

} // namespace

ReferencePage::ReferencePage(Controls& c) : loop(c), simulated(c)
{
    const std::initializer_list<juce::Component*> parts{&loop, &notice, &simulated, &sheet, &bar};
    for (auto* part : parts)
        addChildComponent(part);
    const std::initializer_list<juce::Component*> cards{&head, &sum, &tone, &history, &budget};
    for (auto* card : cards)
        addAndMakeVisible(card);
    head.setTitle("What the page is for");
    connect();
}

void ReferencePage::connect()
{
    simulated.onHeight = [this] { layOut(); };
    sum.onBegins = [this] {
        if (tone.isShowing())
            tone.grabKeyboardFocus();
    };
    sum.onRefusal = [this](const std::string& why) { say(why, true); };
    history.onTable = [this] { openSheet(What::history); };
    history.onExport = sheet.onExport = [this] { askExport(); };
    history.chart.onSelect = sheet.onSelect = [this](std::size_t index) { select(index); };
    history.aside.onAside = sheet.aside.onAside = [this](const std::string& reason) {
        if (controls != nullptr && selected)
            controls->setReferenceAside(*selected, reason);
    };
    history.aside.onBack = sheet.aside.onBack = [this] {
        if (controls != nullptr && selected)
            controls->putReferenceBack(*selected);
    };
    budget.onTable = [this] { openSheet(What::budget); };
    budget.onRemarks = [this] { openSheet(What::remarks); };
    sheet.onClose = [this] { openSheet(What::nothing); };
    sheet.terms.onTerms = [this](const JudgedTerms& terms) {
        if (controls != nullptr)
            controls->setJudgedTerms(terms);
    };
    bar.onHeight = [this] { layOut(); };
    bar.onClose = [this] { say({}, false); };
    bar.onPath = [this](const std::string& path) { picker.typed(path); };
    picker.onTypedPath = [this](const FilePicker::Request& r) { bar.askForPath(r.title, r.name); };
}

void ReferencePage::useReferences(ReferenceControls* c)
{
    controls = c;
    sum.useReferences(c);
    tone.useReferences(c);
}

void ReferencePage::setMeasures(const Measures& m)
{
    measures = m;
    sum.setMeasures(m);
    tone.setMeasures(m);
    history.setMeasures(m);
    budget.setMeasures(m);
    sheet.setMeasures(m);
}

// What keeps a reference from the library is said above everything else.
std::vector<std::string> ReferencePage::sentences() const
{
    auto all = notices(live);
    if (!view.storeNotice.empty())
        all.insert(all.begin(), asSentence(view.storeNotice));
    return all;
}

void ReferencePage::show(const LiveView& next)
{
    live = next;
    loop.show(live);
    notice.show(sentences());
    simulated.show(live);
    if (barsHeight(static_cast<float>(getWidth()) - 2.0f * measures.margin()) != barsShown)
        layOut();
}

void ReferencePage::show(const ReferenceView& next)
{
    const std::size_t before = view.history.points.size(), count = next.history.points.size();
    if (before != count || view.coupler != next.coupler)
        selected.reset();
    view = next;
    if (!selected && count > 0)
        selected = count - 1;
    notice.show(sentences());
    if (barsHeight(static_cast<float>(getWidth()) - 2.0f * measures.margin()) != barsShown)
        layOut();
    else if (isVisible())
        fill();
}

void ReferencePage::fill()
{
    sum.show(view);
    tone.show(view);
    history.show(view, selected);
    budget.show(view);
    if (sheet.isVisible())
        sheet.show(view, selected);
}

void ReferencePage::select(std::size_t index)
{
    if (index >= view.history.points.size() || selected == index)
        return;
    selected = index;
    fill();
}

void ReferencePage::focusTake()
{
    if (isShowing())
        sum.focusTake();
}

void ReferencePage::openSheet(What what)
{
    const auto before = sheet.what();
    sheet.setVisible(what != What::nothing);
    layOut();
    sheet.open(what);
    if (what != What::nothing || before == What::nothing || !isShowing())
        return;
    if (before == What::history)
        history.chart.grabKeyboardFocus();
    else
        focusTake();
}

void ReferencePage::say(const std::string& sentence, bool refused)
{
    LibraryView said; // the bar's own language
    said.said = sentence;
    said.refused = refused;
    bar.show(said);
    layOut();
}

void ReferencePage::askExport()
{
    if (view.history.points.empty())
        return;
    const auto name = juce::File::createLegalFileName(juce::String::fromUTF8(view.coupler.c_str())).toStdString();
    picker.ask({"Export the history to", "*.csv", name + ", references.csv", true},
               [this, text = csvOf(view.history), count = view.history.points.size()](const auto& paths) {
                   const auto& path = paths.front();
                   const auto saved = replaceFile(path, text, false);
                   say(saved ? "The history of " + countedText(count, "reference") + " was written to " + path.string()
                             : saved.fault().sentence,
                       !saved);
               });
}

} // namespace couplet
