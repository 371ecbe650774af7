# Shared sample pictures; and, not a test, a tool that writes the sample documents: `report_gallery FOLDER`.
target_sources(test_report PRIVATE ${CMAKE_CURRENT_LIST_DIR}/../drawing/sample_pictures.cpp)
add_executable(report_gallery ${CMAKE_CURRENT_LIST_DIR}/gallery/gallery.cpp
               ${CMAKE_CURRENT_LIST_DIR}/sample_document.cpp
               ${CMAKE_CURRENT_LIST_DIR}/../drawing/sample_pictures.cpp)
target_link_libraries(report_gallery PRIVATE isochore_report)
