# These two drive the program itself, `isochore calc`, as a user's script would.
add_test(NAME published_states
         COMMAND python3 ${CMAKE_CURRENT_SOURCE_DIR}/published/check_states.py $<TARGET_FILE:isochore_main>)
# Debian's own interpreter: the package iapws belongs to it.
add_test(NAME gas_iapws_oracle
         COMMAND /usr/bin/python3 ${CMAKE_CURRENT_SOURCE_DIR}/gas/oracle/iapws_oracle.py $<TARGET_FILE:isochore_main>)
set_tests_properties(gas_iapws_oracle PROPERTIES SKIP_RETURN_CODE 77)
