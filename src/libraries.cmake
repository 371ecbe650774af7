# Every outside library, once, under a short name. DEVELOPERS.md says why each is there.
find_package(PkgConfig REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(Threads REQUIRED)

function(isochore_outside name)
  pkg_check_modules(PC_${name} REQUIRED IMPORTED_TARGET ${ARGN})
  add_library(${name} INTERFACE)
  # SYSTEM: warnings inside other people's headers are not ours to fix.
  get_target_property(dirs PkgConfig::PC_${name} INTERFACE_INCLUDE_DIRECTORIES)
  if(dirs)
    target_include_directories(${name} SYSTEM INTERFACE ${dirs})
  endif()
  target_link_libraries(${name} INTERFACE PkgConfig::PC_${name})
endfunction()

isochore_outside(sodium libsodium)
isochore_outside(sqlite3 sqlite3)
isochore_outside(libusb libusb-1.0)
isochore_outside(cairo cairo pangocairo cairo-pdf)
isochore_outside(qrencode libqrencode)
isochore_outside(imgui imgui)
isochore_outside(sdl2 sdl2)
isochore_outside(opengl gl)
isochore_outside(png libpng)
isochore_outside(fmt fmt)

add_library(tl_expected INTERFACE) # header only, in the default include path
add_library(cli11 INTERFACE)       # header only, in the default include path
