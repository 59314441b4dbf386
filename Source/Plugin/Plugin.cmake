# SPDX-License-Identifier: GPL-3.0-or-later
#
# The plugin: LV2, VST3 and standalone, and what its tests link. JUCE's modules are compiled once, in Couplet's shared
# code, with the screens' own room above it.

set(COUPLET_LV2_URI "https://couplet.example.org/lv2/couplet")
set(COUPLET_PLUGIN_ENTRY "" CACHE FILEPATH "A source with createPluginFilter in place of the screens' own")

# A sanitizer's runtime cannot come into a host that was built without it: then the processor and its tests alone.
set(COUPLET_FORMATS LV2 VST3 Standalone)
if(COUPLET_SANITIZE)
  set(COUPLET_FORMATS Standalone)
endif()
juce_add_plugin(Couplet
  FORMATS ${COUPLET_FORMATS}
  PRODUCT_NAME "Couplet" DESCRIPTION "Sound pressure at a coupler, with its uncertainty"
  COMPANY_NAME "Couplet project" COMPANY_WEBSITE "https://couplet.example.org/" BUNDLE_ID org.example.couplet
  PLUGIN_MANUFACTURER_CODE Cplp PLUGIN_CODE Cpl1
  VST3_CATEGORIES Analyzer LV2URI "${COUPLET_LV2_URI}")
target_compile_definitions(Couplet PUBLIC
  JUCE_WEB_BROWSER=0 JUCE_USE_CURL=0 JUCE_USE_FLAC=0 JUCE_USE_OGGVORBIS=0 JUCE_USE_MP3AUDIOFORMAT=0
  JUCE_VST3_CAN_REPLACE_VST2=0 JUCE_DISPLAY_SPLASH_SCREEN=0 JUCE_USE_CUSTOM_PLUGIN_STANDALONE_APP=1
  # For the tests' own host, so that JUCE is compiled once; the linker leaves it out of the plugin.
  JUCE_PLUGINHOST_LV2=1 JUCE_PLUGINHOST_VST3=1
  # Debian's JUCE ignores LV2URI: its own header would put the plugin's name there first.
  JucePlugin_LV2URI="${COUPLET_LV2_URI}")

target_compile_options(Couplet PRIVATE -ffunction-sections -fdata-sections)

# JUCE's headers are the system's to our warnings.
foreach(module audio_basics audio_devices audio_formats audio_plugin_client audio_processors audio_utils core
    data_structures events graphics gui_basics gui_extra)
  set_target_properties(juce_${module} PROPERTIES INTERFACE_SYSTEM_INCLUDE_DIRECTORIES
    "$<TARGET_PROPERTY:juce_${module},INTERFACE_INCLUDE_DIRECTORIES>")
endforeach()
target_link_libraries(Couplet PRIVATE juce::juce_audio_utils)

# The same headers and definitions for the rooms that show something: no module is compiled with them.
if(NOT TARGET couplet_juce_gui_headers)
  add_library(couplet_juce_gui_headers INTERFACE)
  target_include_directories(couplet_juce_gui_headers SYSTEM INTERFACE $<TARGET_PROPERTY:Couplet,INCLUDE_DIRECTORIES>)
  target_compile_definitions(couplet_juce_gui_headers INTERFACE $<TARGET_PROPERTY:Couplet,COMPILE_DEFINITIONS>)
endif()

# JUCE's headers take four fifths of the time that a source of ours takes that includes them: they are read once a target.
function(couplet_precompile_juce target)
  target_precompile_headers(${target} PRIVATE <juce_audio_processors/juce_audio_processors.h>)
  # What g++ 12 sees in std::string where there is nothing, and keeps to itself while that is a system's header.
  target_compile_options(${target} PRIVATE -Wno-array-bounds -Wno-stringop-overflow -Wno-stringop-overread)
endfunction()

set(COUPLET_SCREENS ${PROJECT_SOURCE_DIR}/Source/Screens)
if(EXISTS ${COUPLET_SCREENS}/Screens.cmake)
  include(${COUPLET_SCREENS}/Screens.cmake)
endif()

file(GLOB plugin_sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/*.cpp)
list(FILTER plugin_sources EXCLUDE REGEX "/Standalone\\.cpp$")
if(COUPLET_PLUGIN_ENTRY)
  set(entry_sources ${COUPLET_PLUGIN_ENTRY})
else()
  set(entry_sources ${COUPLET_SCREENS}/Editor.cpp ${COUPLET_SCREENS}/PluginEntry.cpp)
  target_link_libraries(Couplet PRIVATE couplet_Screens)
endif()
target_sources(Couplet PRIVATE ${plugin_sources} ${entry_sources})
target_include_directories(Couplet PRIVATE ${PROJECT_SOURCE_DIR}/Source)
target_link_libraries(Couplet PRIVATE couplet_Bench couplet_Simulation)
target_compile_options(Couplet PRIVATE ${COUPLET_WARNINGS} -ffp-contract=off)
couplet_precompile_juce(Couplet)
if(COUPLET_SANITIZE)
  couplet_together(Couplet)
endif()
# JUCE's modules stand beside them: not ours to be warned about, and each the first to include its headers.
get_target_property(juce_core_sources juce_core INTERFACE_SOURCES)
list(GET juce_core_sources 0 juce_core_source)
get_filename_component(juce_modules ${juce_core_source}/../.. ABSOLUTE)
file(GLOB module_sources ${juce_modules}/*/*.cpp)
set_source_files_properties(${module_sources} PROPERTIES COMPILE_OPTIONS -w SKIP_PRECOMPILE_HEADERS ON)

target_sources(Couplet_Standalone PRIVATE ${CMAKE_CURRENT_LIST_DIR}/Standalone.cpp)
target_include_directories(Couplet_Standalone PRIVATE ${PROJECT_SOURCE_DIR}/Source)
set_source_files_properties(${CMAKE_CURRENT_LIST_DIR}/Standalone.cpp PROPERTIES COMPILE_OPTIONS "${COUPLET_WARNINGS}")
target_link_options(Couplet_Standalone PRIVATE -Wl,--gc-sections)
# What is ours stays ours in a host that has loaded two of our kind.
foreach(format LV2 VST3)
  if(NOT TARGET Couplet_${format})
    continue()
  endif()
  target_link_options(Couplet_${format} PRIVATE -Wl,--gc-sections -Wl,--exclude-libs,ALL)
endforeach()

# For programs that make a processor without a host: tests.
add_library(couplet_plugin_testable INTERFACE)
target_link_libraries(couplet_plugin_testable INTERFACE Couplet)
target_compile_definitions(couplet_plugin_testable INTERFACE $<TARGET_PROPERTY:Couplet,COMPILE_DEFINITIONS>)
target_include_directories(couplet_plugin_testable SYSTEM INTERFACE $<TARGET_PROPERTY:Couplet,INCLUDE_DIRECTORIES>)

add_subdirectory(${PROJECT_SOURCE_DIR}/Tests/Plugin ${PROJECT_BINARY_DIR}/Tests/Plugin)
if(TARGET Couplet_LV2)
  add_subdirectory(${PROJECT_SOURCE_DIR}/Tests/Hosts ${PROJECT_BINARY_DIR}/Tests/Hosts)
endif()
