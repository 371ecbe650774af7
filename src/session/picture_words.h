#pragma once
#include <functional>
#include <initializer_list>
#include <string>
#include <string_view>

namespace isochore::session {

/// Puts a picture's own words into the language of the sheet: an English text, and a value for each {} in it.
using PictureWords =
    std::function<std::string(std::string_view english, std::initializer_list<std::string> values)>;

} // namespace isochore::session
