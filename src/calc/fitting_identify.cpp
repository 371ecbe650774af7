#include "calc/fitting_kinds.h"
#include "calc/part_library.h"
#include "calc/part_reading.h"
#include "calc/show_electric.h"
#include "calc/thread_rules.h"
#include "calc/usual.h"
#include "mechanical/identify.h"
#include "quantity/amount.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace mechanical;
using Code = Error::Code;

void refuse_unless_positive(Inputs& in, char const* name, double value)
{
    if (!in.error() && !(value > 0.0))
        in.refuse(Code::out_of_range, name, "must be above zero");
}

constexpr char const* here = "fitting.identify";

/// Taper as "yes", "no", or two diameters a distance apart.
void read_taper(Inputs& in, ThreadReading& r)
{
    auto const second = in.optional_quantity("second_diameter", Dimension::length);
    auto const distance = in.optional_quantity("distance", Dimension::length);
    bool const said = in.has("taper");
    bool const taper = in.flag_or("taper", false);
    if (second.has_value() != distance.has_value())
        in.refuse(Code::missing_input, second ? "distance" : "second_diameter",
                  "two diameters need the distance between them along the thread");
    if (second && distance) {
        refuse_unless_positive(in, "distance", *distance);
        r.taper = std::abs(*second - r.diameter_m) / *distance;
        r.u_taper = std::sqrt(2.0) * r.u_diameter_m / *distance;
    } else if (said) {
        r.taper = taper ? 1.0 / 16.0 : 0.0;
        r.u_taper = usual_si(here, "u_taper_seen", Dimension::ratio);
    }
}

/// "female_parallel" and the like: gender and taper in one answer, as a person sees them.
std::string read_shape(Inputs& in, ThreadReading& r)
{
    std::string const shape =
        in.one_of("shape", {"male_parallel", "male_tapered", "female_parallel", "female_tapered"}, "");
    if (shape.empty())
        return shape;
    r.gender = shape.starts_with("male") ? Gender::male : Gender::female;
    r.taper = shape.ends_with("tapered") ? 1.0 / 16.0 : 0.0;
    r.u_taper = usual_si(here, "u_taper_seen", Dimension::ratio);
    return shape;
}

ThreadReading read_thread(Inputs& in)
{
    ThreadReading r;
    std::string const shape = read_shape(in, r);
    if (shape.empty())
        r.gender = in.one_of("gender", {"male", "female"}, "male") == "male" ? Gender::male : Gender::female;
    char const* diameter = in.has("diameter")         ? "diameter"
                           : r.gender == Gender::male ? "major_diameter"
                                                      : "minor_diameter";
    r.diameter_m = in.quantity(diameter, Dimension::length);
    r.u_diameter_m = given_or_usual(in, here, "u_diameter", Dimension::length);
    refuse_unless_positive(in, diameter, r.diameter_m);
    refuse_unless_positive(in, "u_diameter", r.u_diameter_m);
    r.pitch_m = in.optional_quantity("pitch", Dimension::length);
    if (auto const tpi = in.optional_quantity("threads_per_inch", Dimension::count)) {
        if (r.pitch_m)
            in.refuse(Code::invalid_input, "threads_per_inch",
                      "give the pitch or the threads per inch, not both");
        refuse_unless_positive(in, "threads_per_inch", *tpi);
        r.pitch_m = 0.0254 / *tpi;
    }
    if (r.pitch_m)
        refuse_unless_positive(in, "pitch", *r.pitch_m);
    r.u_pitch_m = given_or_usual(in, here, "u_pitch", Dimension::length);
    refuse_unless_positive(in, "u_pitch", r.u_pitch_m);
    // That no flank gauge was at hand is an answer of the survey too.
    if (in.raw("flank_angle") == "unknown")
        (void)in.text("flank_angle");
    else if (auto const flank = in.optional_quantity("flank_angle", Dimension::angle))
        r.flank_deg = find_unit("deg", Dimension::angle)->from_si(*flank);
    r.u_flank_deg = thread_gauges().u_flank_deg;
    if (shape.empty())
        read_taper(in, r);
    return r;
}

std::string missing_words(ThreadReading const& r)
{
    std::string text;
    if (!r.pitch_m)
        text += "pitch";
    if (!r.taper)
        text += std::string(text.empty() ? "" : " and ") + "taper";
    return text;
}

/// G and Rp of one size are the same thread: no gauge tells them apart, the seat for a washer does.
bool same_thread(Thread const& a, Thread const& b)
{
    return std::abs(a.major_m - b.major_m) < 1e-6 && std::abs(a.pitch_m - b.pitch_m) < 1e-8 &&
           a.taper == b.taper && a.flank_deg == b.flank_deg;
}

/// "G 1/2, or Rp 1/2, which is the same thread", and what all of them together have of the probability.
std::string name_with_twins(std::vector<ThreadCandidate> const& all, double& probability)
{
    std::string names = all.front().thread.id;
    probability = all.front().probability;
    std::string twins;
    for (std::size_t i = 1; i < all.size(); ++i)
        if (same_thread(all.front().thread, all[i].thread)) {
            twins += (twins.empty() ? "" : ", ") + all[i].thread.id;
            probability += all[i].probability;
        }
    if (!twins.empty())
        names += fmt::format(" (the same thread as {}: a flat seat for a washer means {})", twins, names);
    return names;
}

void judge(Answer& answer, std::vector<ThreadCandidate> const& all, ThreadReading const& r,
           std::optional<Distinction> const& next, ThreadCandidate const* rival)
{
    ThreadCandidate const& best = all.front();
    double probability = 0.0;
    std::string const name = name_with_twins(all, probability);
    std::string const missing = missing_words(r);
    std::string remedy = missing.empty() ? "" : "Record the " + missing + " too: all three are needed.";
    if (next && rival)
        remedy = fmt::format("Next: {}: {} is {}, {} is {}.{}{}", next->measure, best.thread.id, next->of_a,
                             rival->thread.id, next->of_b, remedy.empty() ? "" : " ", remedy);
    double const bound = usual_si(here, "no_fit", Dimension::count);
    if (best.misfit > bound * bound * measured_count(r)) {
        answer.checks.push_back({"thread", Verdict::fail,
                                 fmt::format("no thread of the library fits; nearest is {}", best.thread.id),
                                 "Measure again, in two places; if it stays, ask the maker of the breaker.",
                                 "simple"});
        return;
    }
    bool const sure = probability >= usual_si(here, "sure", Dimension::fraction) && missing.empty();
    answer.checks.push_back(
        {"thread", sure ? Verdict::pass : Verdict::undecided,
         probability > 0.995
             ? fmt::format("{} with over 99 % among the threads known", name)
             : fmt::format("{} with {:.0f} % among the threads known", name, probability * 100.0),
         sure ? "" : remedy, "guarded"});
}

} // namespace

Result<Answer> identify_calc(Inputs& in)
{
    ThreadReading const r = read_thread(in);
    if (in.error())
        return tl::unexpected(*in.error());
    auto const all = identify_thread(threads(), r);
    if (all.empty())
        return fail(Code::corrupt, "threads", library_fault());
    Answer answer;
    ThreadCandidate const* rival = all.size() > 1 ? &all[1] : nullptr;
    std::optional<Distinction> next;
    // The next measurement is the one against the best rival that any measurement can still separate.
    for (std::size_t i = 1; i < all.size() && all[i].probability > 0.001 && !next; ++i)
        if ((next = next_measurement(all.front().thread, all[i].thread, r, thread_gauges())))
            rival = &all[i];
    Json list = Json::array();
    for (ThreadCandidate const& c : all) {
        if (list.size() >= 5 && c.probability < 0.01)
            break;
        CrestDiameter const d = crest_diameter(c.thread, r.gender);
        list.push_back({{"thread", c.thread.id},
                        {"probability", c.probability},
                        {"misfit", c.misfit},
                        {"diameter", figure_fact(d.middle_m, "m")},
                        {"diameter_half_range", figure_fact(d.half_range_m, "m")},
                        {"pitch", figure_fact(c.thread.pitch_m, "m")},
                        {"threads_per_inch", c.thread.threads_per_inch()},
                        {"taper", c.thread.taper > 0.0},
                        {"flank_angle", c.thread.flank_deg}});
    }
    answer.facts["thread"] = all.front().thread.id;
    answer.facts["candidates"] = std::move(list);
    if (next)
        answer.facts["next_measurement"] = {{"measure", next->measure},
                                            {"against", rival->thread.id},
                                            {"if_first", next->of_a},
                                            {"if_second", next->of_b}};
    judge(answer, all, r, next, rival);
    answer.working.push_back(
        {"misfit = sum of ((measured - table) / u)^2; probability ~ exp(-misfit / 2) / u",
         fmt::format("{}: {:.2f}", all.front().thread.id, all.front().misfit),
         "normal likelihood; every thread of the library alike beforehand"});
    for (char const* by_hand : {r.taper ? "u_taper_seen" : "", r.flank_deg ? "u_flank" : ""})
        if (Usual const* const u = usual(here, by_hand))
            answer.working.push_back({u->means, u->text, u->source});
    answer.notes.push_back(
        "A fitting that stops before three turns or runs free beyond six is suspect: do not force it.");
    return answer;
}

Result<Answer> parts_calc(Inputs& in)
{
    PartTable const table = read_part_table(in);
    if (in.error())
        return tl::unexpected(*in.error());
    Answer answer;
    Json parts = Json::array();
    for (auto const& [id, p] : table) {
        Json ends = Json::array();
        for (End const& e : p.ends)
            ends.push_back(e.text());
        parts.push_back({{"id", id},
                         {"name", p.name},
                         {"kind", p.kind},
                         {"ends", ends},
                         {"length", figure_fact(p.length_m, "m")},
                         {"mass", figure_fact(p.mass_kg, "kg")},
                         {"cost", p.cost}});
    }
    answer.facts["parts"] = std::move(parts);
    Json names = Json::array();
    for (Thread const& t : threads())
        names.push_back(t.id);
    answer.facts["threads"] = std::move(names);
    answer.notes.push_back("Sizes, masses and costs of the built-in parts are invented planning values.");
    return answer;
}

} // namespace isochore::calc
