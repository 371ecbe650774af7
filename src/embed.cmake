# Puts data files of assets/ into a layer as text, so that a pure calculation can look a part up by its id
# without reading files. The data stay the one source; a change rebuilds the layer.
function(isochore_embed layer name)
  set(entries "")
  foreach(file IN LISTS ARGN)
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/${file})
    file(READ ${CMAKE_SOURCE_DIR}/${file} text)
    get_filename_component(stem ${file} NAME_WE)
    # Compilers bound the length of one literal, so the text is cut at its lines and left to be joined.
    string(REPLACE "\n" "\n)~~\" R\"~~(" text "${text}")
    string(APPEND entries "    if (name == \"${stem}\")\n        return R\"~~(${text})~~\";\n")
  endforeach()
  set(out ${CMAKE_BINARY_DIR}/generated/${layer}_${name}.cpp)
  file(CONFIGURE OUTPUT ${out} @ONLY CONTENT
"#include \"${layer}/${name}.h\"
namespace isochore::${layer} {
std::string_view ${name}(std::string_view name)
{
${entries}    return {};
}
}
")
  target_sources(isochore_${layer} PRIVATE ${out})
endfunction()
