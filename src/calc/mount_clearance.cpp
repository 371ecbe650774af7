#include "calc/counts.h"
#include "calc/kit_wire.h"
#include "calc/mount_kinds.h"
#include "calc/show_electric.h"
#include "calc/usual.h"
#include "mechanical/clearance.h"
#include "quantity/amount.h"
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace isochore::calc {
namespace {

using namespace mechanical;
using Code = Error::Code;

std::string mm(double m)
{
    return show_fixed(m * 1e3, 1) + " mm";
}

std::vector<StackPart> read_parts(Inputs& in)
{
    std::vector<StackPart> parts;
    for (Inputs& p : in.list("parts")) {
        parts.push_back({p.text("name"), p.quantity("size", Dimension::length),
                         p.quantity_or("tolerance", Dimension::length, 0.0)});
        p.refuse_unread();
        in.absorb(p);
    }
    if (parts.empty())
        in.refuse(Code::missing_input, "parts",
                  "list what stands in the depth: unit, connectors, cable bend, door trim");
    return parts;
}

void budget(Answer& answer, StackPart const& available, std::vector<StackPart> const& parts,
            Clearance const& c)
{
    double const squares = c.spread_rss_m * c.spread_rss_m;
    auto const bar = [&](StackPart const& p) {
        if (p.tolerance_m > 0.0)
            answer.budget.push_back({p.name, p.tolerance_m / std::sqrt(3.0),
                                     p.tolerance_m * p.tolerance_m / squares,
                                     "tolerance as a rectangular limit, JCGM 100, 4.3.7"});
    };
    bar(available);
    for (StackPart const& p : parts)
        bar(p);
}

} // namespace

Result<Answer> clearance_calc(Inputs& in)
{
    StackPart available{"depth", in.quantity("depth_available", Dimension::length),
                        in.quantity_or("depth_tolerance", Dimension::length, 0.0)};
    auto const parts = read_parts(in);
    double const needed = in.quantity_or("min_clearance", Dimension::length, 0.0);
    if (!in.error() && (available.tolerance_m < 0.0 || needed < 0.0))
        in.refuse(Code::out_of_range, needed < 0.0 ? "min_clearance" : "depth_tolerance",
                  "cannot be negative: enter how much must stay free, or how far the size may be off");
    if (!in.has("min_clearance"))
        in.note("min_clearance not given: taken as 0, the door must just shut");
    if (in.error())
        return tl::unexpected(*in.error());
    auto const c = stack_clearance(available, parts, "inputs");
    if (!c)
        return tl::unexpected(c.error());

    Answer answer;
    double const u = c->spread_rss_m / std::sqrt(3.0);
    answer.results.push_back(
        {"clearance", c->nominal_m, "m", u, c->nominal_m - c->spread_rss_m, c->nominal_m + c->spread_rss_m});
    answer.add("worst_case", c->worst_m(), "m").add("rss", c->likely_worst_m(), "m");
    std::string numbers = mm(available.size_m);
    for (StackPart const& p : parts)
        numbers += " - " + mm(p.size_m);
    answer.working.push_back(
        {"clearance = depth - sum of parts", numbers + " = " + mm(c->nominal_m), "stack along the depth"});
    answer.working.push_back({"worst case: tolerances add; statistical: root of the sum of squares",
                              fmt::format("± {} and ± {}", mm(c->spread_worst_m), mm(c->spread_rss_m)),
                              "tolerance stack-up"});
    budget(answer, available, parts, *c);
    Verdict v = Verdict::undecided;
    std::string remedy =
        "Offer the unit up with connectors and a cable bend in place, shut the door and measure the gap.";
    if (c->worst_m() >= needed) {
        v = Verdict::pass;
        remedy.clear();
    } else if (c->nominal_m + c->spread_rss_m < needed) {
        v = Verdict::fail;
        remedy =
            fmt::format("It is {} short: use right-angle connectors, a thinner bracket or another place.",
                        mm(needed - c->nominal_m));
    }
    std::string const text =
        c->nominal_m < 0.0
            ? fmt::format("the parts are {} deeper than the cabinet: the door does not shut",
                          mm(-c->nominal_m))
            : fmt::format("clearance {} nominal, {} in the worst case, {} statistically, {} needed",
                          mm(c->nominal_m), mm(c->worst_m()), mm(c->likely_worst_m()), mm(needed));
    answer.checks.push_back({"clearance", v, text, remedy, "guarded"});
    return answer;
}

Result<Answer> sightline_calc(Inputs& in)
{
    SightCase c;
    c.window_m = in.quantity("window", Dimension::length);
    c.display_m = in.quantity("display", Dimension::length);
    c.offset_m = in.quantity_or("offset", Dimension::length, 0.0);
    c.gap_m = in.quantity("gap", Dimension::length);
    c.eye_distance_m = in.quantity("eye_distance", Dimension::length);
    auto const needed = in.optional_quantity("min_visible", Dimension::fraction);
    for (auto const& [name, value] : {std::pair{"window", c.window_m}, std::pair{"display", c.display_m},
                                      std::pair{"eye_distance", c.eye_distance_m}})
        if (!(value > 0.0))
            in.refuse(Code::out_of_range, name, "must be above zero");
    if (c.gap_m < 0.0)
        in.refuse(Code::out_of_range, "gap", "cannot be negative: the display stands behind the window");
    if (in.error())
        return tl::unexpected(*in.error());
    Answer answer;
    double const seen = visible_share(c);
    answer.add("visible", seen * 100.0, "%");
    answer.working.push_back({"half width seen = w/2 (e + gap) / e",
                              fmt::format("{} x ({} + {}) / {}", mm(c.window_m / 2), mm(c.eye_distance_m),
                                          mm(c.gap_m), mm(c.eye_distance_m)),
                              "similar triangles, the eye on the window's axis"});
    if (needed)
        answer.checks.push_back(
            {"visible", seen >= *needed ? Verdict::pass : Verdict::fail,
             fmt::format("{:.0f} % of the display is seen, {:.0f} % asked", seen * 100.0, *needed * 100.0),
             seen >= *needed ? "" : "Move the unit towards the window's axis or nearer the door.", "simple"});
    return answer;
}

Result<Answer> cables_calc(Inputs& in)
{
    double const slack = given_or_usual(in, "mount.cables", "slack", Dimension::fraction);
    double const tail = given_or_usual(in, "mount.cables", "tail", Dimension::length);
    if (slack < 0.0 || tail < 0.0)
        in.refuse(Code::out_of_range, slack < 0.0 ? "slack" : "tail", "cannot be negative");
    Json rows = Json::array();
    double total = 0.0, side_by_side = 0.0;
    std::map<std::string, double> of_kind;
    Answer answer;
    auto runs = in.list("runs");
    if (runs.empty())
        in.refuse(Code::missing_input, "runs", "list the runs: name, route and count of conductors");
    for (Inputs& run : runs) {
        std::string const name = run.text("name");
        double const route = run.quantity("route", Dimension::length);
        int const count = read_count_or(run, "conductors", 1, 100, 1);
        auto const reach = run.optional_quantity("reach", Dimension::length);
        std::string const wire = run.one_of("wire", wire_ids(), "");
        if (!(route > 0.0))
            run.refuse(Code::out_of_range, "route",
                       "must be above zero: measure along the conduit, not the straight line");
        run.refuse_unread();
        in.absorb(run);
        double const cut = route * (1.0 + slack) + 2.0 * tail;
        total += cut * count;
        side_by_side += cut;
        if (!wire.empty())
            of_kind[wire] += cut * count;
        rows.push_back({{"name", name}, {"conductors", count}, {"cut_length", figure_fact(cut, "m")}});
        if (reach && !in.error())
            answer.checks.push_back(
                {name, cut <= *reach ? Verdict::pass : Verdict::fail,
                 fmt::format("{} needs {:.2f} m, the fixed lead is {:.2f} m", name, cut, *reach),
                 cut <= *reach ? "" : "Mount the unit nearer, or join an extension the maker allows.",
                 "simple"});
    }
    if (in.error())
        return tl::unexpected(*in.error());
    answer.add("total_length", total, "m");
    answer.add("run_length", side_by_side, "m");
    for (auto const& [wire, length] : of_kind)
        answer.add("wire_" + wire, length, "m");
    answer.facts["runs"] = std::move(rows);
    answer.working.push_back({"cut = route x (1 + slack) + 2 tails",
                              fmt::format("slack {:g} %, tail {}", slack * 100.0, mm(tail)),
                              "common practice, no source"});
    return answer;
}

} // namespace isochore::calc
