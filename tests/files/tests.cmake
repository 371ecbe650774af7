# The published schema, held by a validator of its own (python3-jsonschema) against the profiles supplied and
# against broken ones.
add_test(NAME profile_schema
         COMMAND python3 ${CMAKE_CURRENT_LIST_DIR}/profile_schema_test.py ${CMAKE_SOURCE_DIR})
set_tests_properties(profile_schema PROPERTIES SKIP_RETURN_CODE 77)

# Every checklist text in every language, and nothing left over.
add_test(NAME translations
         COMMAND python3 ${CMAKE_CURRENT_LIST_DIR}/check_translations.py ${CMAKE_SOURCE_DIR})
