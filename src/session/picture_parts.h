#pragma once
#include "session/step_picture.h"
#include <vector>

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
    language::Translate const& translate;

    /// A figure of the result, in its own unit; NaN where there is none.
    [[nodiscard]] double figure(char const* name) const;
    /// A fact of the result; null where there is none.
    [[nodiscard]] Json fact(char const* name) const;

    /// Half the 95 % interval of a figure, in its unit: as worked out, else twice u; 0 where neither is
    /// known.
    [[nodiscard]] double half_width(char const* name) const;
    /// An input of the calculation as it was given to it.
    [[nodiscard]] std::optional<Amount> given(char const* name, Dimension dimension) const;

    /// A text of the picture in the language of the sheet.
    [[nodiscard]] std::string words(std::string_view english,
                                    std::initializer_list<std::string> values = {}) const;
    /// The same for the words a drawing brings along, in place.
    void say(std::initializer_list<std::string*> texts) const;
    void say(std::vector<std::string>& wordings) const;
};

[[nodiscard]] std::optional<drawing::Picture> gas_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> purge_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> leak_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> forecast_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> resistor_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> wiring_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> taps_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> chain_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> clearance_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> plan_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> limits_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> phases_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> probe_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> dilution_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> moisture_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> bag_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> account_picture(PictureQuestion const& q);

} // namespace isochore::session
