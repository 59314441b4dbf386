# SPDX-License-Identifier: GPL-3.0-or-later
#
# The room Screens: what is seen of the plugin. It needs JUCE's headers for windows (couplet_juce_gui_headers, as the
# system's) and hands on no compiled module: each program holds JUCE once. Editor.cpp and PluginEntry.cpp are the
# plugin's own and need its processor; everything else draws a LiveView and needs none.

# The font comes from Debian's package fonts-b612 (SIL Open Font License 1.1).
set(COUPLET_FONTS /usr/share/fonts/opentype/b612)
juce_add_binary_data(couplet_assets HEADER_NAME BinaryData.h NAMESPACE couplet_assets
  SOURCES ${COUPLET_FONTS}/B612-Regular.otf ${COUPLET_FONTS}/B612-Bold.otf)
set_target_properties(couplet_assets PROPERTIES POSITION_INDEPENDENT_CODE ON)

file(GLOB screens_sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/*.cpp)
list(FILTER screens_sources EXCLUDE REGEX "/(Editor|PluginEntry)\\.cpp$")
add_library(couplet_Screens STATIC ${screens_sources})
target_include_directories(couplet_Screens PUBLIC ${CMAKE_CURRENT_LIST_DIR}/..)
target_compile_options(couplet_Screens PRIVATE ${COUPLET_WARNINGS} -ffp-contract=off)
target_link_libraries(couplet_Screens PUBLIC couplet_Bench PRIVATE couplet_assets couplet_juce_gui_headers)
couplet_precompile_juce(couplet_Screens)
if(COUPLET_SANITIZE)
  couplet_together(couplet_Screens)
endif()
