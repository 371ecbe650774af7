# The whole demo outage through the real window, off screen, under Xvfb and with the tablet upright; what it leaves is checked by
# check_outage.py. kill_and_resume.py ends the program without warning and looks where it goes on.
set(rehearsals ${CMAKE_CURRENT_LIST_DIR})
add_test(NAME rehearsal_script_is_current COMMAND python3 ${rehearsals}/write_script.py --check)
foreach(display offscreen xvfb upright)
  add_test(NAME rehearsal_whole_outage_${display}
           COMMAND python3 ${rehearsals}/check_outage.py ${CMAKE_BINARY_DIR}/isochore ${display}
                   ${CMAKE_BINARY_DIR}/rehearsal-${display})
  set_tests_properties(rehearsal_whole_outage_${display} PROPERTIES TIMEOUT 600)
endforeach()
add_test(NAME rehearsal_kill_and_resume
         COMMAND python3 ${rehearsals}/kill_and_resume.py ${CMAKE_BINARY_DIR}/isochore
                 ${CMAKE_BINARY_DIR}/rehearsal-kill)
set_tests_properties(rehearsal_kill_and_resume PROPERTIES TIMEOUT 600)
file(GLOB short_rehearsals CONFIGURE_DEPENDS ${rehearsals}/short/*.txt)
foreach(script IN LISTS short_rehearsals)
  get_filename_component(name ${script} NAME_WE)
  add_test(NAME rehearsal_${name}
           COMMAND python3 ${rehearsals}/run_short.py ${CMAKE_BINARY_DIR}/isochore ${script}
                   ${CMAKE_BINARY_DIR}/rehearsal-short-${name})
  # 77: it needs a disk of its own, and nobody may mount one here.
  set_tests_properties(rehearsal_${name} PROPERTIES TIMEOUT 300 SKIP_RETURN_CODE 77)
endforeach()
# The branches the demo outage leaves out, by touch; and by command against what the window left.
add_test(NAME rehearsal_other_outage
         COMMAND python3 ${rehearsals}/check_other_outage.py ${CMAKE_BINARY_DIR}/isochore ${CMAKE_BINARY_DIR}/rehearsal-other)
set_tests_properties(rehearsal_other_outage PROPERTIES TIMEOUT 600)
# No text cut and no target too small on any sheet of the outages in the other languages, at other sizes.
set(sheets_to_walk de:1280x800@149.5 es:800x1280@149.5 de:800x1280@149.5/other)
foreach(walk IN LISTS sheets_to_walk)
  string(REGEX REPLACE "[:@/]" "_" name ${walk})
  add_test(NAME every_sheet_keeps_its_rules_${name}
           COMMAND python3 ${rehearsals}/check_sheets.py ${CMAKE_BINARY_DIR}/isochore
                   ${CMAKE_BINARY_DIR}/rehearsal-sheets ${walk})
  set_tests_properties(every_sheet_keeps_its_rules_${name} PROPERTIES TIMEOUT 600)
endforeach()
# Sheets the outages do not come by, in another language: the short rehearsals that begin early.
add_test(NAME short_sheets_in_german
         COMMAND python3 ${rehearsals}/check_short_sheets.py ${CMAKE_BINARY_DIR}/isochore
                 ${CMAKE_BINARY_DIR}/rehearsal-short-sheets de archive hand_over nameplate_table own_part_is_used
                 profile_from_nameplate settings_and_menu two_people)
set_tests_properties(short_sheets_in_german PROPERTIES TIMEOUT 300)
# Sticks that come and go while their sheet is open, on a simulated USB tree (see tests/media/tests.cmake).
if(TARGET test_media_usb)
  add_executable(plug_while_open ${rehearsals}/usb/plug_while_open.cpp)
  target_link_libraries(plug_while_open PRIVATE isochore_media PkgConfig::UMOCKDEV)
  target_include_directories(plug_while_open PRIVATE ${CMAKE_SOURCE_DIR}/tests)
  add_dependencies(plug_while_open isochore_main)
  add_test(NAME rehearsal_plugged_and_pulled
           COMMAND ${ISOCHORE_UMOCKDEV} $<TARGET_FILE:plug_while_open> ${CMAKE_BINARY_DIR}/isochore
                   ${rehearsals}/usb/plugged_and_pulled.txt ${CMAKE_BINARY_DIR}/rehearsal-plugged-and-pulled)
  set_tests_properties(rehearsal_plugged_and_pulled PROPERTIES TIMEOUT 300)
endif()
