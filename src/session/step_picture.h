#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include "session/evaluate.h"
#include <functional>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>

namespace isochore::session {

/// Puts a picture's own words into the language of the sheet: an English text, and a value for each {} in it.
using PictureWords =
    std::function<std::string(std::string_view english, std::initializer_list<std::string> values)>;

/// The picture a step names, from what the outage knows and what is in hand (`result` and `inputs` of a
/// calculation, stored or just computed; null where there is none); nullopt where there is nothing to draw
/// yet. The same pictures stand on screen and in the record; without `words` they speak English.
[[nodiscard]] std::optional<drawing::Picture>
step_picture(Context const& context, model::Step const& step, Json const& result, Json const& inputs,
             drawing::Space space, drawing::MeasureText const& measure, PictureWords const& words = {});

} // namespace isochore::session
