# The program that the kill test kills: it appends for ever and says what was confirmed.
add_executable(append_loop ${CMAKE_CURRENT_LIST_DIR}/kill/append_loop.cpp)
target_link_libraries(append_loop PRIVATE isochore_journal)
if(TARGET test_crash)
  add_dependencies(test_crash append_loop isochore_main) # the kill test runs both
  target_compile_definitions(test_crash PRIVATE ISOCHORE_APPEND_LOOP="$<TARGET_FILE:append_loop>")
endif()
