// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Editor.h"

// What every plugin format and the standalone program begin with.
juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter();

juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter()
{
    return new couplet::Processor(
        [](couplet::Processor& processor) -> juce::AudioProcessorEditor* { return new couplet::Editor(processor); });
}
