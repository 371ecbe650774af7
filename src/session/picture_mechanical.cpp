#include "drawing/clearance.h"
#include "drawing/fitting_chain.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace isochore::session {
namespace {

std::string answer_verdict(Json const& result)
{
    return result.is_object() ? text_member(result, "verdict") : std::string();
}

double millimetres(Json const& j, char const* name, double otherwise)
{
    return length_of(j, name, otherwise / 1000.0) * 1000.0;
}

drawing::ChainPart::Shape shape_of(std::string const& kind)
{
    using Shape = drawing::ChainPart::Shape;
    static std::map<std::string, Shape> const shapes{{"run", Shape::pipe},      {"pipe", Shape::pipe},
                                                     {"tube", Shape::pipe},     {"tee", Shape::tee},
                                                     {"elbow", Shape::elbow},   {"valve", Shape::valve},
                                                     {"sensor", Shape::sensor}, {"coupling", Shape::coupling},
                                                     {"plug", Shape::cap},      {"cap", Shape::cap}};
    auto const it = shapes.find(kind);
    return it == shapes.end() ? Shape::adapter : it->second;
}

} // namespace

std::optional<drawing::Picture> chain_picture(PictureQuestion const& q)
{
    Json const& stored = q.context.state.record("prepare.chain").result;
    PictureQuestion const from{q.context,  q.step,  q.fact("joints").is_array() ? q.result : stored,
                               q.inputs,   q.space, q.measure,
                               q.translate};
    Json const joints = from.fact("joints");
    if (!joints.is_array() || joints.empty())
        return std::nullopt;
    std::map<std::string, Json> legs;
    if (Json const list = from.fact("legs"); list.is_array())
        for (auto const& leg : list)
            legs[text_member(leg, "part")] = leg;
    drawing::FittingChain chain;
    chain.parts.push_back({q.words("breaker"), drawing::ChainPart::Shape::port, 15.0, 40.0});
    for (auto const& j : joints) {
        std::string const name = text_member(j, "to");
        drawing::ChainPart part;
        part.name = q.words(name);
        part.shape = drawing::ChainPart::Shape::adapter;
        if (auto const it = legs.find(name); it != legs.end()) {
            part.shape = shape_of(text_member(it->second, "kind"));
            part.diameter_mm = millimetres(it->second, "diameter", part.diameter_mm);
            Json const a = member(it->second, "from"), b = member(it->second, "to");
            if (a.is_array() && b.is_array() && a.size() == b.size()) {
                double square = 0.0;
                for (std::size_t i = 0; i < a.size(); ++i)
                    if (a[i].is_number() && b[i].is_number())
                        square += std::pow(b[i].get<double>() - a[i].get<double>(), 2);
                part.length_mm = std::sqrt(square) * 1000.0;
            }
        }
        chain.parts.push_back(std::move(part));
        std::string seal = text_member(j, "seal");
        std::replace(seal.begin(), seal.end(), '_', ' ');
        std::string const text = text_member(j, "text");
        drawing::Mark const mark = mark_of(text_member(j, "verdict"));
        std::string const end = text_member(j, "a");
        chain.joints.push_back({q.words(end) + (seal.empty() ? "" : ", " + q.words(seal)),
                                mark == drawing::Mark::pass ? std::string() : q.words(text), mark,
                                q.words(drawing::mark_word(mark))});
    }
    double const volume = from.figure("added_volume"), length = from.figure("length");
    if (std::isfinite(volume) && std::isfinite(length))
        chain.totals = q.words("added {} ml, {} mm long",
                               {fmt::format("{:.1f}", volume * 1e6), fmt::format("{:.0f}", length * 1e3)});
    return drawing::fitting_chain(chain, q.space, q.measure);
}

std::optional<drawing::Picture> clearance_picture(PictureQuestion const& q)
{
    Json const inputs = q.known_inputs();
    double const gap = q.figure("clearance");
    if (!inputs.is_object() || !std::isfinite(gap))
        return std::nullopt;
    drawing::ClearanceSection section;
    section.depth_mm = millimetres(inputs, "depth_available", 0.0);
    section.tolerance_mm = millimetres(inputs, "depth_tolerance", 0.0);
    if (auto const parts = inputs.find("parts"); parts != inputs.end() && parts->is_array())
        for (auto const& p : *parts) {
            drawing::StackPart part;
            part.label = text_member(p, "name");
            using Kind = drawing::StackPart::Kind;
            part.kind = part.label.find("bend") != std::string::npos    ? Kind::cable_bend
                        : part.label.find("plate") != std::string::npos ? Kind::plate
                        : part.label.starts_with("connector")           ? Kind::connector
                                                                        : Kind::unit;
            part.depth_mm = millimetres(p, "size", 0.0);
            part.tolerance_mm = millimetres(p, "tolerance", 0.0);
            part.label = q.words(part.label);
            section.parts.push_back(std::move(part));
        }
    section.gap_mm = gap * 1e3;
    section.gap_label =
        q.words("gap {} mm, worst case {} mm",
                {fmt::format("{:.0f}", gap * 1e3), fmt::format("{:.0f}", q.figure("worst_case") * 1e3)});
    section.verdict = mark_of(answer_verdict(q.result));
    section.verdict_word = q.words(drawing::mark_word(section.verdict));
    q.say({&section.back, &section.door});
    return drawing::clearance_section(section, q.space, q.measure);
}

} // namespace isochore::session
