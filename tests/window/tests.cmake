# The window's tests show the demonstration sheets of the screens.
if(TARGET test_window)
  target_sources(test_window PRIVATE ${CMAKE_CURRENT_LIST_DIR}/../screens/demo_sheets.cpp
                                     ${CMAKE_CURRENT_LIST_DIR}/../screens/demo_pictures.cpp)
  # Only where no display answers for a whole minute does something hang.
  set_tests_properties(window PROPERTIES TIMEOUT 300)
endif()
