// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FilePicker.h"

#include <utility>

namespace couplet {
namespace {

juce::String shown(const std::string& text)
{
    return juce::String::fromUTF8(text.c_str());
}

juce::File documents()
{
    return juce::File::getSpecialLocation(juce::File::userDocumentsDirectory);
}

} // namespace

void FilePicker::ask(const Request& request, Taken taken)
{
    waiting = std::move(taken);
    if (!usesDesktop) {
        if (onTypedPath)
            onTypedPath(request);
        return;
    }
    using Browser = juce::FileBrowserComponent;
    const int flags = request.isNew ? Browser::saveMode | Browser::canSelectFiles
                                    : Browser::openMode | Browser::canSelectFiles | Browser::canSelectMultipleItems;
    chooser = std::make_unique<juce::FileChooser>(shown(request.title), documents().getChildFile(shown(request.name)),
                                                  shown(request.pattern), true);
    // It ends with this picker, and calls nobody after that.
    chooser->launchAsync(flags, [this](const juce::FileChooser& closed) {
        std::vector<std::filesystem::path> paths;
        for (const auto& file : closed.getResults())
            paths.emplace_back(file.getFullPathName().toStdString());
        if (!paths.empty() && waiting)
            waiting(paths);
    });
}

// "~" is the home folder, and a path that begins nowhere begins there: a plugin's own folder is the host's.
void FilePicker::typed(const std::string& path)
{
    const auto text = shown(path).trim();
    if (text.isEmpty() || !waiting)
        return;
    const auto home = juce::File::getSpecialLocation(juce::File::userHomeDirectory);
    const auto file =
        text.startsWithChar('~') || juce::File::isAbsolutePath(text) ? juce::File(text) : home.getChildFile(text);
    waiting({std::filesystem::path(file.getFullPathName().toStdString())});
}

} // namespace couplet
