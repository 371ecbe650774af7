#pragma once
#include "session/step_picture.h"

/// The pictures one by one; step_picture() picks among them.
namespace isochore::session {

/// What a picture is made from.
struct PictureQuestion {
    Context const& context;
    model::Step const& step;
    Json const& result;
    Json const& inputs;
    drawing::Space space;
    drawing::MeasureText const& measure;

    /// A figure of the result, in its own unit; NaN where there is none.
    [[nodiscard]] double figure(char const* name) const;
    /// A fact of the result; null where there is none.
    [[nodiscard]] Json fact(char const* name) const;
};

[[nodiscard]] std::optional<drawing::Picture> gas_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> purge_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> leak_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> resistor_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> wiring_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> taps_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> chain_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> clearance_picture(PictureQuestion const& q);

} // namespace isochore::session
