// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

// Purpose: asks for files with the desktop's own chooser; where it has none, by a path that is typed.
// Thread:  message.
namespace couplet {

class FilePicker
{
public:
    struct Request
    {
        std::string title;   // "Import couplers"
        std::string pattern; // "*.json"
        std::string name;    // a new file's, suggested
        bool isNew = false;  // a file to be written
    };
    using Taken = std::function<void(const std::vector<std::filesystem::path>&)>;

    void ask(const Request&, Taken);

    // Shows a field for the path; what is typed there comes back by `typed`.
    std::function<void(const Request&)> onTypedPath;
    void typed(const std::string& path);

    bool usesDesktop = juce::FileChooser::isPlatformDialogAvailable();

private:
    std::unique_ptr<juce::FileChooser> chooser; // it stays while it is open
    Taken waiting;
};

} // namespace couplet
