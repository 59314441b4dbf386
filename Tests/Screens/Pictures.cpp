// SPDX-License-Identifier: GPL-3.0-or-later
//
// couplet_pictures OUTDIR [STATE]: every state of the window as PNG files, at its usual size, at its smallest and at
// twice the usual; fit-all: those of the Fit page. Needs no display.
#include "FitStates.h"
#include "IdleControls.h"
#include "IdleFit.h"
#include "IdleLibrary.h"
#include "LibraryStates.h"
#include "ReferenceStates.h"
#include "Screens/ChooserSheet.h"
#include "Screens/MainView.h"
#include "ShownTexts.h"
#include "States.h"

#include <cstdio>

namespace {

using namespace couplet;

bool write(juce::Component& window, const juce::File& file, float scale)
{
    const auto image = window.createComponentSnapshot(window.getLocalBounds(), true, scale);
    file.deleteFile();
    juce::FileOutputStream stream(file);
    juce::PNGImageFormat png;
    return stream.openedOk() && png.writeImageToStream(image, stream);
}

struct Shot
{
    const char* suffix;
    int width, height;
    float scale;
};

bool picture(const juce::File& folder, const std::string& name, const std::function<void(MainView&)>& prepare)
{
    constexpr Shot shots[] = {{"", 1100, 720, 1.0f}, {"-small", 760, 520, 1.0f}, {"-2x", 1100, 720, 2.0f}};
    bool good = true;
    for (const auto& shot : shots) {
        IdleControls controls;
        IdleLibrary library;
        MainView window(controls, &library);
        window.setVisible(true);
        window.setSize(shot.width, shot.height);
        prepare(window);
        good = write(window, folder.getChildFile(juce::String(name + shot.suffix + ".png")), shot.scale) && good;
    }
    return good;
}

void openChooser(MainView& window, const NamedLibrary& state)
{
    window.show(agreeing());
    window.showLibrary(state.view);
    window.openChooser(true);
    if (auto* sheet = find<ChooserSheet>(window))
        sheet->searchFor(state.search);
}

bool libraryPictures(const juce::File& folder, const std::string& only)
{
    bool good = true;
    const auto wanted = [&only](const std::string& name) { return only.empty() || only == name; };
    for (const auto& state : libraryStates())
        if (wanted(state.name) || only == "chooser")
            good = picture(folder, "chooser-" + state.name, [&](MainView& w) { openChooser(w, state); }) && good;
    for (const auto& state : versionStates())
        if (wanted("versions-" + state.name) || only == "versions")
            good = picture(folder, "versions-" + state.name,
                           [&](MainView& w) {
                               openChooser(w, {"", fiveCouplers(), ""});
                               find<CouplerDetails>(w)->startVersions();
                               w.showLibrary(withVersions(fiveCouplers(), state.versions));
                           }) &&
                   good;
    for (const auto& state : conflictStates()) {
        if (!wanted(state.name) && only != "conflict")
            continue;
        good = picture(folder, "conflict-" + state.name,
                       [&](MainView& w) {
                           w.show(agreeing());
                           w.showLibrary(state.view);
                           w.askAbout(state.view.questions.front());
                       }) &&
               good;
        good = picture(folder, "asked-" + state.name,
                       [&](MainView& w) {
                           w.show(agreeing());
                           w.showLibrary(state.view);
                       }) &&
               good;
    }
    return good;
}

bool referencePictures(const juce::File& folder, const std::string& only)
{
    bool good = true;
    for (const auto& state : referenceStates())
        if (only.empty() || only == "reference" || only == "reference-" + state.name)
            good = picture(folder, "reference-" + state.name, [&state](MainView& w) { show(w, state); }) && good;
    return good;
}

bool fitPictures(const juce::File& folder, const std::string& only)
{
    bool good = true;
    for (const auto& state : fitStates()) {
        if (!only.empty() && only != state.name && only != "fit-all")
            continue;
        IdleFit controls;
        good = picture(folder, state.name, [&](MainView& w) { show(w, controls, state); }) && good;
    }
    return good;
}

bool allPictures(const juce::File& folder, const std::string& only)
{
    bool good = true;
    const auto wanted = [&only](const std::string& name) { return only.empty() || only == name; };
    for (const auto& state : allStates()) {
        const std::string& name = state.name;
        if (!wanted(name))
            continue;
        good = picture(folder, "read-" + name, [&state](MainView& w) { show(w, state); }) && good;
        if (state.opened == 0) // the far view is the same over all of them
            good = picture(folder, "far-" + name,
                           [&state](MainView& w) {
                               w.show(state.view);
                               w.setFarView(true);
                           }) &&
                   good;
    }
    for (int page = 2; page < 5 && only.empty(); ++page)
        good = picture(folder, "page-" + std::to_string(page),
                       [page](MainView& w) {
                           w.show(agreeing());
                           w.openPage(page);
                       }) &&
               good;
    if (wanted("choices"))
        good = picture(folder, "read-choices",
                       [](MainView& w) {
                           w.show(agreeing());
                           w.openEarphoneChoices(true);
                       }) &&
               good;
    if (wanted("notes"))
        good = picture(folder, "read-notes",
                       [](MainView& w) {
                           w.show(stateNamed("disturbed"));
                           w.openNotes(true);
                       }) &&
               good;
    good = fitPictures(folder, only) && good;
    return libraryPictures(folder, only) && referencePictures(folder, only) && good;
}

} // namespace

int main(int argc, char* argv[])
{
    if (argc < 2 || argc > 3) {
        std::fputs("usage: couplet_pictures OUTDIR [STATE]\n", stderr);
        return 2;
    }
    const juce::ScopedJuceInitialiser_GUI juceRuns;
    const auto folder = juce::File::getCurrentWorkingDirectory().getChildFile(juce::String::fromUTF8(argv[1]));
    if (folder.createDirectory().failed() || !allPictures(folder, argc > 2 ? argv[2] : "")) {
        std::fprintf(stderr, "couplet_pictures: cannot write into %s; name a folder that can be written\n", argv[1]);
        return 2;
    }
    return 0;
}
