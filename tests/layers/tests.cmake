add_test(NAME layers COMMAND python3 ${CMAKE_CURRENT_LIST_DIR}/check_includes.py ${CMAKE_SOURCE_DIR})
