# SPDX-License-Identifier: GPL-3.0-or-later
#
# Pictures and tests of the screens: no display is needed. Both take JUCE's window modules from where they are compiled
# once: the plugin's shared code.
if(NOT COUPLET_JUCE_GUI)
  set(COUPLET_JUCE_GUI couplet_plugin_testable)
endif()

set(screens_tests ${CMAKE_CURRENT_LIST_DIR})
add_library(couplet_screen_states STATIC ${screens_tests}/States.cpp ${screens_tests}/InventedSpectrum.cpp
  ${screens_tests}/LibraryStates.cpp ${screens_tests}/ReferenceScene.cpp ${screens_tests}/ReferenceStates.cpp
  ${screens_tests}/Workbench.cpp ${screens_tests}/FitStates.cpp ${screens_tests}/FitViews.cpp
  ${screens_tests}/ShownTexts.cpp)
# It reads the sketch's table.
set_source_files_properties(${screens_tests}/FitViews.cpp PROPERTIES
  COMPILE_DEFINITIONS COUPLET_TESTS_DIR="${CMAKE_CURRENT_SOURCE_DIR}/Tests")
target_compile_options(couplet_screen_states PRIVATE ${COUPLET_WARNINGS})
target_link_libraries(couplet_screen_states PUBLIC couplet_Screens PRIVATE couplet_juce_gui_headers)
couplet_precompile_juce(couplet_screen_states)
couplet_together(couplet_screen_states)

add_executable(couplet_pictures ${screens_tests}/Pictures.cpp)
target_compile_options(couplet_pictures PRIVATE ${COUPLET_WARNINGS})
target_link_libraries(couplet_pictures PRIVATE couplet_screen_states ${COUPLET_JUCE_GUI})

file(GLOB screens_test_sources CONFIGURE_DEPENDS ${screens_tests}/Test*.cpp)
add_executable(couplet_screens_tests ${screens_test_sources} ${screens_tests}/../Library/Scratch.cpp)
target_compile_options(couplet_screens_tests PRIVATE ${COUPLET_WARNINGS})
target_include_directories(couplet_screens_tests PRIVATE ${screens_tests}/..)
target_link_libraries(couplet_screens_tests PRIVATE couplet_screen_states ${COUPLET_JUCE_GUI} Catch2::Catch2)
couplet_precompile_juce(couplet_screens_tests)
couplet_together(couplet_screens_tests)
add_test(NAME screens COMMAND ${COUPLET_RUN} $<TARGET_FILE:couplet_screens_tests>)
# An editor is made as well, and must find no library of whoever runs the tests.
set_tests_properties(screens PROPERTIES FAIL_REGULAR_EXPRESSION "JUCE Assertion failure;Leaked objects;ThreadSanitizer"
  ENVIRONMENT "COUPLET_LIBRARY=${CMAKE_CURRENT_BINARY_DIR}/screens-library")
