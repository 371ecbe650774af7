# fuzz_NAME.cpp is a libFuzzer target: configure with clang and -DISOCHORE_FUZZ=ON, then run
# build/tests/fuzz_NAME tests/fuzz/corpus/NAME. Without clang the same target gets seeded mutations of its
# corpus for a second or so, as a test.
function(isochore_fuzz name rounds)
  list(TRANSFORM ARGN PREPEND isochore_ OUTPUT_VARIABLE layers)
  set(source ${CMAKE_CURRENT_SOURCE_DIR}/fuzz/fuzz_${name}.cpp)
  if(ISOCHORE_FUZZ)
    add_executable(fuzz_${name} ${source})
    target_link_libraries(fuzz_${name} PRIVATE ${layers})
    target_link_options(fuzz_${name} PRIVATE -fsanitize=fuzzer)
  else()
    add_executable(smoke_${name} ${source} ${CMAKE_CURRENT_SOURCE_DIR}/fuzz/smoke_main.cpp)
    target_link_libraries(smoke_${name} PRIVATE ${layers})
    add_test(NAME fuzz_${name}
             COMMAND smoke_${name} ${CMAKE_CURRENT_SOURCE_DIR}/fuzz/corpus/${name} ${rounds})
  endif()
endfunction()

isochore_fuzz(read_json 300000 json)
isochore_fuzz(verify_record 300000 seal)
isochore_fuzz(profile 10000 files)
isochore_fuzz(manifest 60000 media)
isochore_fuzz(unit 60000 media)
isochore_fuzz(nameplates 20000 files)
