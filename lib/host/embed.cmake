# Texts that programs carry along, so that they are at hand wherever the program runs: embedded_texts.cpp, a table of
# names and contents. Files of data/ are named relative to it, all others relative to the project.
function(embed_texts output)
  set(rows "")
  foreach(path ${ARGN})
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${path})
    file(RELATIVE_PATH name ${PROJECT_SOURCE_DIR} ${path})
    string(REGEX REPLACE "^data/" "" name ${name})
    file(READ ${path} text)
    string(APPEND rows "    {\"${name}\", R\"embedded(${text})embedded\"},\n")
  endforeach()
  file(CONFIGURE OUTPUT ${output} CONTENT [[
#include "winkhold/base/vehicle/detail/embedded_texts.hpp"

namespace winkhold::base {

const std::vector<EmbeddedText>& embedded_texts() {
  static const std::vector<EmbeddedText> texts{
@rows@  };
  return texts;
}

} // namespace winkhold::base
]] @ONLY)
endfunction()
