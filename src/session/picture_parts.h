#pragma once
#include "drawing/footing.h"
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
    ReadingInHand reading = {};

    /// A figure of the result, in its own unit; NaN where there is none.
    [[nodiscard]] double figure(char const* name) const;
    /// A fact of the result; null where there is none.
    [[nodiscard]] Json fact(char const* name) const;

    /// Half the 95 % interval of a figure, in its unit: as worked out, else twice u; 0 where neither is
    /// known.
    [[nodiscard]] double half_width(char const* name) const;
    /// An input of the calculation; nullopt where there is none or it is of another kind.
    [[nodiscard]] std::optional<Amount> input_amount(char const* name, Dimension dimension) const;
    /// The same in SI, else NaN.
    [[nodiscard]] double input(char const* name, Dimension dimension) const;
    /// The same, or what the calculation takes where it is not given.
    [[nodiscard]] double input_or_usual(char const* name, Dimension dimension) const;
    /// The inputs as the calculation had them; while it has not run, as they are known so far. Of a reading,
    /// those of its prediction.
    [[nodiscard]] Json known_inputs() const;
    /// What the calculation held against a limit, in its words, those named only and in that order.
    [[nodiscard]] std::vector<drawing::FootText> checks(std::initializer_list<char const*> names) const;
    /// The verdict of one of these.
    [[nodiscard]] drawing::Mark check_mark(char const* name) const;

    /// A text of the picture in the language of the sheet.
    [[nodiscard]] std::string words(std::string_view english,
                                    std::initializer_list<std::string> values = {}) const;
    /// The same for the words a drawing brings along, in place.
    void say(std::initializer_list<std::string*> texts) const;
    void say(std::vector<std::string>& wordings) const;
};

/// The sign of a verdict's name: "pass", "fail", "undecided".
[[nodiscard]] drawing::Mark mark_of(std::string_view verdict);
/// A length in m: a member that is a text with its unit, or a number in m.
[[nodiscard]] double length_of(Json const& j, char const* name, double otherwise);

[[nodiscard]] std::optional<drawing::Picture> gas_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> purge_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> leak_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> forecast_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> resistor_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> wiring_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> wiring_choice_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> taps_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> ct_path_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> thread_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> bolts_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> sightline_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> cables_picture(PictureQuestion const& q);
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
[[nodiscard]] std::optional<drawing::Picture> loop_picture(PictureQuestion const& q);
[[nodiscard]] std::optional<drawing::Picture> reading_picture(PictureQuestion const& q);

} // namespace isochore::session
