#include "drawing/pt_diagram.h"
#include "gas/isochore_line.h"
#include "gas/state.h"
#include "model/profile_derived.h"
#include "session/display.h"
#include "session/picture_parts.h"
#include "session/profile_picture.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::session {
namespace {

constexpr double low_c = -45.0, high_c = 60.0, zero_c = 273.15;

std::vector<drawing::Point> on_axes(std::vector<gas::LinePoint> const& line)
{
    std::vector<drawing::Point> points;
    for (auto const& p : line)
        points.push_back({p.temperature_k - zero_c, p.pressure_pa / 1e6});
    return points;
}

/// The lines of a profile's filling, alarm and lockout on their axes.
std::optional<drawing::PtDiagram> isochores_of(model::Profile const& profile,
                                               language::Translate const& translate)
{
    auto const species = gas::species_by_name(profile.text("gas.species", "SF6"), "profile");
    if (!species)
        return std::nullopt;
    auto const derived = model::derive(profile);
    auto const words = [&](std::string_view english) { return language::translated(translate, english); };
    drawing::PtDiagram d;
    d.liquid = words(d.liquid);
    for (auto* wordings : {&d.x_titles, &d.y_titles})
        for (auto& text : *wordings)
            text = words(text);
    double top = 0.0, bottom = 0.3;
    struct Line {
        drawing::Isochore::Kind kind;
        char const* path;
        std::string word;
    };
    using Kind = drawing::Isochore::Kind;
    for (auto const& line : {Line{Kind::filling, "gas.nominal_density", words("filling")},
                             Line{Kind::warn, "gas.warn_density", words("warn")},
                             Line{Kind::lockout, "gas.lockout_density", words("lockout")}}) {
        double const density = derived.si(line.path);
        if (!std::isfinite(density))
            continue;
        drawing::Isochore isochore;
        isochore.kind = line.kind;
        isochore.points = on_axes(gas::isochore_line(*species, density, low_c + zero_c, high_c + zero_c));
        isochore.brief = fmt::format("{} {:.1f}", line.word, density);
        isochore.label = line.kind == Kind::filling ? isochore.brief + " kg/m³" : isochore.brief;
        if (!isochore.points.empty()) {
            top = std::max(top, isochore.points.back().y);
            bottom = std::min(bottom, std::floor(isochore.points.front().y * 10.0) / 10.0);
        }
        d.isochores.push_back(std::move(isochore));
    }
    if (d.isochores.empty())
        return std::nullopt;
    d.dew_line = on_axes(gas::dew_line(*species, low_c + zero_c, 20.0 + zero_c));
    d.temperature_low_c = low_c;
    d.temperature_high_c = high_c;
    d.pressure_low_mpa = std::max(0.0, bottom);
    d.pressure_high_mpa = std::ceil(top * 10.0 + 1.0) / 10.0;
    return d;
}

} // namespace

std::optional<drawing::Picture> profile_picture(model::Profile const& profile, drawing::Space space,
                                                drawing::MeasureText const& measure,
                                                language::Translate const& words)
{
    auto const d = isochores_of(profile, words);
    return d ? std::optional(drawing::pt_diagram(*d, space, measure)) : std::nullopt;
}

std::optional<drawing::Picture> gas_picture(PictureQuestion const& q)
{
    auto const species = gas::species_by_name(q.context.profile.text("gas.species", "SF6"), "profile");
    auto lines = isochores_of(q.context.profile, q.translate);
    if (!species || !lines)
        return std::nullopt;
    drawing::PtDiagram& d = *lines;
    double const air = air_of(q.context).pressure_pa;
    auto const temperature = q.input_amount("temperature", Dimension::temperature);
    auto const pressure = q.input_amount("pressure", Dimension::pressure);
    if (temperature)
        d.temperature_now_c = temperature->si - zero_c;
    if (temperature && pressure) {
        double const pa = pressure->si + (pressure->reference == PressureReference::gauge ? air : 0.0);
        drawing::LiveState live;
        live.temperature_c = temperature->si - zero_c;
        live.pressure_mpa = pa / 1e6;
        if (auto const density = gas::density_kg_m3(*species, temperature->si, pa)) {
            Json const now = q.fact(q.fact("density_now").is_object() ? "density_now" : "density");
            double u95 = 0.0;
            if (now.is_object() && now.contains("u") && now["u"].is_number())
                u95 = 2.0 * now["u"].get<double>();
            // A box of the reading's own width shows at a glance how much the instruments leave open.
            live.pressure_u95 = u95 * pa / *density / 1e6;
            int const decimals = u95 > 0.0 ? std::max(1, decimals_for(u95, 2)) : 1;
            live.label =
                q.words("now {} kg/m³",
                        {u95 > 0.02 ? fmt::format("{:.{}f} ± {:.{}f}", *density, decimals, u95, decimals)
                                    : fmt::format("{:.1f}", *density)});
        }
        if (live.pressure_mpa < *d.pressure_low_mpa)
            d.pressure_low_mpa = 0.0;
        if (live.pressure_mpa > *d.pressure_high_mpa)
            d.pressure_high_mpa = std::ceil(live.pressure_mpa * 10.0 + 1.0) / 10.0;
        d.live = live;
    }
    double const target = std::isfinite(q.figure("target_pressure"))          ? q.figure("target_pressure")
                          : q.step.call && q.step.call->calc == "fill.target" ? q.figure("pressure")
                                                                              : std::nan("");
    if (std::isfinite(target) && temperature)
        d.target =
            drawing::PtTarget{temperature->si - zero_c, target / 1e6,
                              q.words("stop at {} bar g", {fmt::format("{:.2f}", (target - air) / 1e5)})};
    return drawing::pt_diagram(d, q.space, q.measure);
}

} // namespace isochore::session
