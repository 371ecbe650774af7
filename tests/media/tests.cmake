# Plugging and unplugging through libusb, on a simulated USB tree. It needs umockdev's preloaded library, so it
# is a program of its own. Without umockdev it is left out, and CMake says so.
find_package(PkgConfig REQUIRED)
find_program(ISOCHORE_UMOCKDEV umockdev-wrapper)
pkg_check_modules(UMOCKDEV IMPORTED_TARGET umockdev-1.0>=0.17.7)
if(ISOCHORE_UMOCKDEV AND UMOCKDEV_FOUND)
  add_executable(test_media_usb ${CMAKE_CURRENT_LIST_DIR}/usb/usb_watch_test.cpp)
  target_link_libraries(test_media_usb PRIVATE test_main isochore_media PkgConfig::UMOCKDEV)
  add_test(NAME media_usb COMMAND ${ISOCHORE_UMOCKDEV} $<TARGET_FILE:test_media_usb>)
else()
  message(STATUS "umockdev is not installed: the USB plugging test is left out")
endif()
