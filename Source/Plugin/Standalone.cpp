// SPDX-License-Identifier: GPL-3.0-or-later
//
// The program around the plugin: JUCE's own window, with its settings beside the library and its input never muted.
// JUCE mutes it against feedback, and a meter would show silence; here nothing goes through (Processor.h), so there is
// no loop to fear. Thread: message.
#include "Library/Folder.h"
#include "Plugin/Processor.h"

#include <juce_audio_utils/juce_audio_utils.h>

#include <juce_audio_plugin_client/Standalone/juce_StandaloneFilterWindow.h>

namespace couplet {
namespace {

// $XDG_DATA_HOME/Couplet/Couplet.settings, wherever COUPLET_LIBRARY has put the library itself.
juce::PropertiesFile::Options settingsOptions()
{
    const auto home = juce::SystemStats::getEnvironmentVariable("XDG_DATA_HOME", "~/.local/share");
    juce::PropertiesFile::Options options;
    options.applicationName = "Couplet";
    options.filenameSuffix = ".settings";
    options.folderName = juce::File(home.isEmpty() ? "~/.local/share" : home).getChildFile("Couplet").getFullPathName();
    return options;
}

constexpr std::size_t earphoneS = 3; // of the demonstration's scenario

class Standalone : public juce::JUCEApplication
{
public:
    Standalone() { properties.setStorageParameters(settingsOptions()); }

    const juce::String getApplicationName() override { return "Couplet"; }
    const juce::String getApplicationVersion() override { return JucePlugin_VersionString; }
    bool moreThanOneInstanceAllowed() override { return true; }

    // `--simulated` opens on the simulated bench, earphone S in place, whatever was there last.
    void initialise(const juce::String& commandLine) override
    {
        auto* settings = properties.getUserSettings();
        settings->setValue("shouldMuteInput", false); // before the window reads it
        window =
            std::make_unique<juce::StandaloneFilterWindow>(getApplicationName(), juce::Colours::black, settings, false);
        window->getPluginHolder()->getMuteInputValue() = false;
        window->setVisible(true);
        auto* processor = dynamic_cast<Processor*>(window->getAudioProcessor());
        if (commandLine.contains("--simulated") && processor != nullptr)
            processor->simulate(true, {OnCoupler::What::earphone, earphoneS, Side::left, {}});
    }

    void shutdown() override
    {
        window.reset();
        properties.saveIfNeeded();
    }

    void systemRequestedQuit() override
    {
        if (window != nullptr)
            window->getPluginHolder()->savePluginState();
        quit();
    }

private:
    juce::ApplicationProperties properties;
    std::unique_ptr<juce::StandaloneFilterWindow> window;
};

} // namespace
} // namespace couplet

JUCE_CREATE_APPLICATION_DEFINE(couplet::Standalone)
