# Every text of the program itself in every language, and nothing left over.
add_test(NAME ui_words COMMAND python3 ${CMAKE_CURRENT_LIST_DIR}/check_ui_words.py ${CMAKE_SOURCE_DIR})
