# The files of Presets/ as a source of the Library room, so that a program needs no path to them at run time.
file(GLOB preset_files CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/Presets/*.json)
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${preset_files})
set(preset_texts "")
foreach(preset_file ${preset_files})
  file(READ ${preset_file} preset_text)
  string(APPEND preset_texts "        R\"preset(${preset_text})preset\",\n")
endforeach()
file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/PresetTexts.cpp @ONLY CONTENT "#include \"Library/PresetTexts.h\"

namespace couplet {

std::vector<std::string_view> presetTexts()
{
    return {
@preset_texts@    };
}

} // namespace couplet
")
target_sources(couplet_Library PRIVATE ${PROJECT_BINARY_DIR}/PresetTexts.cpp)
