# Pictures of every kind of sheet in every theme and size, for people to look at:
#   screens_gallery OUT_FOLDER [filter]
add_executable(screens_gallery ${CMAKE_CURRENT_LIST_DIR}/gallery/gallery.cpp ${CMAKE_CURRENT_LIST_DIR}/demo_sheets.cpp
               ${CMAKE_CURRENT_LIST_DIR}/demo_pictures.cpp)
target_include_directories(screens_gallery PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(screens_gallery PRIVATE isochore_window isochore_screens)
