# Pictures of every kind of sheet in every theme and size, for people to look at:
#   screens_gallery OUT_FOLDER [filter]
add_executable(screens_gallery ${CMAKE_CURRENT_LIST_DIR}/gallery/gallery.cpp ${CMAKE_CURRENT_LIST_DIR}/demo_sheets.cpp
               ${CMAKE_CURRENT_LIST_DIR}/demo_pictures.cpp ${CMAKE_CURRENT_LIST_DIR}/lengthened.cpp)
target_include_directories(screens_gallery PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(screens_gallery PRIVATE isochore_window isochore_screens)

# Start, frame time, idle cost; only built on request (ISOCHORE_BENCH).
if(ISOCHORE_BENCH)
  add_executable(screens_bench ${CMAKE_CURRENT_LIST_DIR}/../bench/screens_bench.cpp ${CMAKE_CURRENT_LIST_DIR}/demo_sheets.cpp
                 ${CMAKE_CURRENT_LIST_DIR}/demo_pictures.cpp)
  target_include_directories(screens_bench PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
  target_link_libraries(screens_bench PRIVATE isochore_window isochore_screens sdl2 opengl)
endif()
