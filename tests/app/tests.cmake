# Every text of the program itself in every language, and nothing left over.
add_test(NAME ui_words COMMAND python3 ${CMAKE_CURRENT_LIST_DIR}/check_ui_words.py ${CMAKE_SOURCE_DIR})
# One word for one thing, as in the table of terms.
add_test(NAME ui_words_terms COMMAND python3 ${CMAKE_CURRENT_LIST_DIR}/check_terms.py ${CMAKE_SOURCE_DIR})

# The sheet of sticks while they come and go, on a simulated USB tree (see tests/media/tests.cmake).
find_package(PkgConfig REQUIRED)
find_program(ISOCHORE_UMOCKDEV umockdev-wrapper)
pkg_check_modules(UMOCKDEV IMPORTED_TARGET umockdev-1.0>=0.17.7)
if(ISOCHORE_UMOCKDEV AND UMOCKDEV_FOUND)
  add_executable(test_app_usb ${CMAKE_CURRENT_LIST_DIR}/usb/stick_page_test.cpp)
  target_link_libraries(test_app_usb PRIVATE test_main isochore_app PkgConfig::UMOCKDEV)
  add_test(NAME app_usb COMMAND ${ISOCHORE_UMOCKDEV} $<TARGET_FILE:test_app_usb>)
endif()
