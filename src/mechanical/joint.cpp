#include "mechanical/joint.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::mechanical {
namespace {

constexpr struct {
    Form form;
    std::string_view name;
} forms[] = {{Form::face, "face"},     {Form::taper, "taper"}, {Form::cone37, "cone37"},
             {Form::cone45, "cone45"}, {Form::boss, "boss"},   {Form::tube, "tube"}};

bool same_size(Thread const& a, Thread const& b)
{
    return std::fabs(a.major_m - b.major_m) < 1e-6 && std::fabs(a.pitch_m - b.pitch_m) < 1e-7;
}

bool whitworth(Thread const& t)
{
    return t.flank_deg == 55.0;
}

std::string pitch_text(Thread const& t)
{
    return t.family == "M"
               ? fmt::format("pitch {:.3g} mm", t.pitch_m * 1e3)
               : fmt::format("{:g} threads per inch", std::round(t.threads_per_inch() * 2.0) / 2.0);
}

std::string major_text(Thread const& t)
{
    return fmt::format("{:.2f} mm", t.major_m * 1e3);
}

std::string taper_text(Thread const& t)
{
    return t.taper > 0.0 ? fmt::format("taper, {:.2f} mm over 10 mm", taper_difference_m(t, 0.010) * 1e3)
                         : std::string("parallel");
}

bool is_cone(Form form)
{
    return form == Form::cone37 || form == Form::cone45;
}

std::vector<std::string> seals_for(Form form)
{
    switch (form) {
    case Form::face:
        return {"bonded_washer", "o_ring"};
    case Form::taper:
        return {"sealant", "ptfe_tape"};
    case Form::cone37:
    case Form::cone45:
        return {"none"};
    case Form::boss:
        return {"o_ring"};
    case Form::tube:
        return {"ferrule"};
    }
    return {};
}

std::string why_alike(Thread const& a, Thread const& b, LookAlikes const& alike)
{
    if (std::fabs(a.pitch_m - b.pitch_m) < alike.engages_pitch * a.pitch_m)
        return "the pitch is the same, so they engage, yet the flanks or the taper differ and leave a spiral "
               "leak path";
    if (std::fabs(a.major_m - b.major_m) < alike.binds_m)
        return "they start, then bind, and the thread is spoilt";
    return "one is a little larger and the pitch differs: it starts or binds after a few turns and does not "
           "seal";
}

std::string apart_text(End const& a, End const& b, ThreadGauges const& gauges)
{
    std::string text;
    for (Distinction const& d : tell_apart(a, b, gauges))
        text += fmt::format("{}{}: {} against {}", text.empty() ? "" : "; ", d.measure, d.of_a, d.of_b);
    return text;
}

Joint refuse(JointFault fault, End const& a, End const& b, ThreadRules const& rules, std::string why)
{
    return {fault, std::move(why), apart_text(a, b, rules.gauges), {}};
}

/// Threads of different family or size: named as look-alikes where they are.
Joint different_threads(End const& a, End const& b, ThreadRules const& rules)
{
    std::string const names = fmt::format("{} and {}", a.thread.id, b.thread.id);
    if (look_alike(a.thread, b.thread, rules.alike))
        return refuse(JointFault::look_alike, a, b, rules,
                      fmt::format("{} look alike and do not seal: {}", names,
                                  why_alike(a.thread, b.thread, rules.alike)));
    return refuse(JointFault::thread, a, b, rules,
                  fmt::format("{} are different threads: an adapter is needed", names));
}

/// Same thread, but do the two ends seal on one another?
Joint different_forms(End const& a, End const& b, ThreadRules const& rules)
{
    if (is_cone(a.form) && is_cone(b.form))
        return refuse(
            JointFault::look_alike, a, b, rules,
            "the 37 and 45 degree flares share this thread: they screw up, touch on a line and leak");
    return refuse(JointFault::form, a, b, rules,
                  fmt::format("the thread fits, but a {} end does not seal on a {} end", form_name(a.form),
                              form_name(b.form)));
}

bool iso7_pair(Thread const& a, Thread const& b)
{
    auto const one = [](Thread const& r, Thread const& s) {
        return r.family == "R" && (s.family == "Rc" || s.family == "Rp");
    };
    return one(a, b) || one(b, a);
}

Joint check_seal(Joint joint, std::string_view seal)
{
    if (seal.empty() || std::find(joint.seals.begin(), joint.seals.end(), seal) != joint.seals.end())
        return joint;
    std::string list;
    for (auto const& s : joint.seals)
        list += (list.empty() ? "" : " or ") + s;
    joint.fault = JointFault::seal;
    joint.text = fmt::format("{} does not seal this joint: use {}", seal, list);
    return joint;
}

} // namespace

std::string_view form_name(Form form)
{
    for (auto const& f : forms)
        if (f.form == form)
            return f.name;
    return "face";
}

std::optional<Form> form_by_name(std::string_view name)
{
    for (auto const& f : forms)
        if (f.name == name)
            return f.form;
    return std::nullopt;
}

std::string End::text() const
{
    return fmt::format("{} {}, {}", thread.id, gender == Gender::male ? "male" : "female", form_name(form));
}

bool look_alike(Thread const& a, Thread const& b, LookAlikes const& alike)
{
    if (a.family == "tube" || b.family == "tube")
        return a.family == b.family && std::fabs(a.major_m - b.major_m) < alike.tube_m;
    return std::fabs(a.major_m - b.major_m) < alike.major_m &&
           std::fabs(std::log(a.pitch_m / b.pitch_m)) < std::log(alike.pitch_ratio);
}

std::vector<Distinction> tell_apart(End const& a, End const& b, ThreadGauges const& gauges)
{
    constexpr double apart_m = 0.010; // where the two diameters of a taper are taken
    std::vector<Distinction> all;
    auto const add = [&](std::string measure, std::string of_a, std::string of_b, double distance) {
        if (std::fabs(distance) >= gauges.apart)
            all.push_back({std::move(measure), std::move(of_a), std::move(of_b), std::fabs(distance)});
    };
    Thread const& s = a.thread;
    Thread const& t = b.thread;
    add("calliper on the crests", major_text(s), major_text(t),
        (s.major_m - t.major_m) / (std::sqrt(2.0) * gauges.u_major_m));
    if (s.family != "tube" && t.family != "tube") {
        add("pitch gauge", pitch_text(s), pitch_text(t), (s.pitch_m - t.pitch_m) / gauges.u_pitch_m);
        add("two diameters 10 mm apart", taper_text(s), taper_text(t),
            (taper_difference_m(s, apart_m) - taper_difference_m(t, apart_m)) / (gauges.u_taper * apart_m));
        add("flank gauge", fmt::format("{:g}°", s.flank_deg), fmt::format("{:g}°", t.flank_deg),
            (s.flank_deg - t.flank_deg) / gauges.u_flank_deg);
    }
    auto const cone = [](Form f) { return f == Form::cone37 ? 37.0 : f == Form::cone45 ? 45.0 : 0.0; };
    if (is_cone(a.form) || is_cone(b.form))
        add("cone gauge", is_cone(a.form) ? fmt::format("{:g}°", cone(a.form)) : "no cone",
            is_cone(b.form) ? fmt::format("{:g}°", cone(b.form)) : "no cone",
            (cone(a.form) - cone(b.form)) / gauges.u_cone_deg);
    std::stable_sort(all.begin(), all.end(),
                     [](auto const& x, auto const& y) { return x.distance > y.distance; });
    return all;
}

Joint check_joint(End const& a, End const& b, std::string_view seal, ThreadRules const& rules)
{
    Thread const& s = a.thread;
    Thread const& t = b.thread;
    bool const paired = (s.family == t.family || iso7_pair(s, t)) && same_size(s, t);
    if (!paired && whitworth(s) && whitworth(t) && same_size(s, t))
        return refuse(
            JointFault::look_alike, a, b, rules,
            fmt::format(
                "{} and {} share size and pitch, but a taper end and a parallel face end are no joint "
                "of either standard: it tightens and leaks",
                s.id, t.id));
    if (!paired)
        return different_threads(a, b, rules);
    if (a.gender == b.gender)
        return {JointFault::gender,
                fmt::format("both ends are {}: a {} is needed between them",
                            a.gender == Gender::male ? "male" : "female",
                            a.gender == Gender::male ? "socket" : "nipple"),
                "",
                {}};
    if (a.form != b.form)
        return different_forms(a, b, rules);
    return check_seal({JointFault::none, fmt::format("{} mates", s.id), "", seals_for(a.form)}, seal);
}

} // namespace isochore::mechanical
