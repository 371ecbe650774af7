add_executable(list_units ${CMAKE_CURRENT_SOURCE_DIR}/quantity/oracle/list_units.cpp)
target_link_libraries(list_units PRIVATE isochore_quantity)
add_test(NAME quantity_units_oracle
         COMMAND python3 ${CMAKE_CURRENT_SOURCE_DIR}/quantity/oracle/units_oracle.py $<TARGET_FILE:list_units>)
set_tests_properties(quantity_units_oracle PROPERTIES SKIP_RETURN_CODE 77)
