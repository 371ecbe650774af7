#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace isochore {

/// The text with its letters A to Z small: names are compared without regard to case, and only ASCII has one
/// that every file system and every person agrees on.
[[nodiscard]] std::string folded(std::string_view text);

/// What a person may have meant: names that differ from `wanted` by little, share its beginning or hold it,
/// nearest first, at most `most`, joined with commas. With `all_if_few`, all of them where none comes near
/// and they are no more than that. Empty where there is nothing to say.
[[nodiscard]] std::string near_names(std::string_view wanted, std::vector<std::string> const& names,
                                     std::size_t most = 5, bool all_if_few = true);

/// "; near it: kd-41, kd-12" to end a sentence that refuses a name, or nothing.
[[nodiscard]] std::string near_it(std::string_view wanted, std::vector<std::string> const& names);

} // namespace isochore
