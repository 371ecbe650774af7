#pragma once
#include "model/entry_words.h"
#include <functional>
#include <initializer_list>
#include <string>
#include <string_view>

namespace isochore::language {

using model::fill_places;

/// Marks an English text that is handed to Words later, so that tests/app/check_ui_words.py finds it.
constexpr char const* said(char const* english)
{
    return english;
}

/// Puts a text into the language of the sheet: an English text, and a value for each {} in it.
using Translate =
    std::function<std::string(std::string_view english, std::initializer_list<std::string> values)>;
/// The text in the language; in English, with its values, where there is no `translate`.
[[nodiscard]] std::string translated(Translate const& translate, std::string_view english,
                                     std::initializer_list<std::string> values = {});

} // namespace isochore::language
