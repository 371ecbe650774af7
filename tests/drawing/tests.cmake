# Not a test: paints every picture to PNG files for people to look at. `drawing_gallery FOLDER`.
add_executable(drawing_gallery ${CMAKE_CURRENT_LIST_DIR}/gallery/gallery.cpp
               ${CMAKE_CURRENT_LIST_DIR}/sample_pictures.cpp)
target_link_libraries(drawing_gallery PRIVATE isochore_report)
