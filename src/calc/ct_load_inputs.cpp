#include "calc/ct_load_inputs.h"
#include "calc/counts.h"
#include "calc/ct_inputs.h"
#include "calc/uncertain.h"
#include "calc/usual.h"
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace electrical;
using Code = Error::Code;

constexpr char const* here = "ct.load_check";

double share(Inputs& in, char const* name)
{
    double const got = given_or_usual(in, here, name, Dimension::fraction);
    if (!(got >= 0.0) || got >= 1.0)
        in.refuse(Code::out_of_range, name, "must be 0 to 100 %");
    return got;
}

/// Relative standard uncertainty of one quantity as given (see uncertain.h), else the usual one with a note.
double relative(Inputs& in, Uncertainties& given, std::string const& name, double value, Dimension dimension)
{
    if (!given.given(name)) {
        note_usual(in, here, "uncertainties." + name);
        return usual_si(here, "uncertainties." + name, Dimension::fraction);
    }
    double const u = given.read(name, value, dimension).u;
    return value > 0.0 ? u / value : 0.0;
}

void read_uncertainties(Inputs& in, LoadCase& c)
{
    Uncertainties given(in);
    LoadReading& r = c.reading;
    c.expected = r;
    c.expected.reading_a = r.primary_a / c.recorded.scale();
    r.u_primary = relative(in, given, "primary_current", r.primary_a, Dimension::current);
    r.u_ratio = relative(in, given, "ratio", 1.0, Dimension::ratio);
    r.u_reading = relative(in, given, "secondary_reading", r.reading_a, Dimension::current);
    c.expected.u_primary = r.u_primary;
    c.expected.u_ratio = r.u_ratio;
    c.expected.u_reading = relative(in, given, "secondary_reading", c.expected.reading_a, Dimension::current);
    if (given.given("floor")) {
        r.u_floor_a = given.read("floor", 0.0, Dimension::current).u;
    } else {
        r.u_floor_a = usual_si(here, "uncertainties.floor", Dimension::current);
        note_usual(in, here, "uncertainties.floor");
    }
    c.expected.u_floor_a = r.u_floor_a;
    given.finish();
}

void read_single_ratio(Inputs& in, LoadCase& c)
{
    std::string const typed = in.text("ratio");
    if (in.error())
        return;
    if (typed.find_first_of(":/") == std::string::npos) {
        double const ratio = in.quantity("ratio", Dimension::ratio);
        if (!in.error() && ratio < 1.0)
            in.refuse(Code::out_of_range, "ratio",
                      fmt::format("{:g} is below 1: primary and secondary look swapped, enter {:g}", ratio,
                                  1.0 / ratio));
        c.recorded.ratio = ratio;
        c.rated_secondary_a = in.quantity_or("secondary", Dimension::current, 5.0);
        return;
    }
    auto const ratio = parse_ratio(typed, in.place("ratio"));
    if (!ratio)
        return in.refuse(ratio.error().code, "ratio", ratio.error().detail);
    c.recorded.ratio = ratio->to_one();
    c.rated_secondary_a = ratio->secondary_a;
}

void read_recorded_pair(Inputs& in, LoadCase& c)
{
    auto taps = read_taps(in);
    if (!taps) {
        if (!in.error())
            in.refuse(taps.error().code, in.has("segments") ? "segments" : "full_ratio", taps.error().detail);
        return;
    }
    c.taps = std::move(*taps);
    c.rated_secondary_a = c.taps.front().secondary_a;
    std::string const full = fmt::format("X1-X{}", c.taps.back().to);
    if (!in.has("terminals"))
        in.note("terminals not given: the full winding " + full + " is taken as recorded");
    std::string const wanted = in.text_or("terminals", full);
    for (Tap const& tap : c.taps)
        if (tap.terminals() == wanted) {
            c.recorded.terminals = wanted;
            c.recorded.ratio = tap.ratio();
            return;
        }
    in.refuse(
        Code::unknown, "terminals",
        fmt::format("\"{}\" is no pair of this CT: write for example \"X1-X3\", lower number first", wanted));
}

/// An auxiliary CT multiplies every ratio that is considered; the coil sits on its secondary.
void read_auxiliary(Inputs& in, LoadCase& c)
{
    if (!in.has("aux_primary") && !in.has("aux_secondary"))
        return;
    NameplateRatio const aux = read_ratio(in, "aux_primary", "aux_secondary");
    if (in.error())
        return;
    if (auto const good = check_ratio(aux, in.place("aux_secondary"), true); !good)
        return in.refuse(good.error().code, "aux_secondary", good.error().detail);
    double const factor = aux.to_one();
    c.recorded.ratio *= factor;
    c.rated_secondary_a = aux.secondary_a;
    for (Tap& tap : c.taps)
        tap.primary_a = tap.ratio() * factor * aux.secondary_a, tap.secondary_a = aux.secondary_a;
    in.note(fmt::format("every ratio is taken times the auxiliary CT's {:g}", factor));
}

} // namespace

LoadCase read_load(Inputs& in)
{
    LoadCase c;
    if (in.has("full_ratio") || in.has("segments"))
        read_recorded_pair(in, c);
    else if (in.has("ratio"))
        read_single_ratio(in, c);
    else
        in.refuse(Code::missing_input, "full_ratio", "give full_ratio (\"2000:5\") with terminals, or ratio");
    c.recorded.turns = read_turns(in);
    read_auxiliary(in, c);
    c.recorded.delta = read_delta(in);
    c.reading.primary_a = in.quantity("primary_current", Dimension::current);
    c.has_reading = in.has("secondary_reading");
    c.reading.reading_a = in.quantity_or("secondary_reading", Dimension::current, 0.0);
    read_uncertainties(in, c);
    c.tolerance = share(in, "tolerance");
    c.judge_above = share(in, "judge_above");
    c.most_turns = count_or_usual(in, here, "turns_considered", 1, 10);
    for (auto const& [name, value] : {std::pair{"primary_current", c.reading.primary_a},
                                      std::pair{"secondary_reading", c.reading.reading_a}})
        if (value < 0.0)
            in.refuse(Code::out_of_range, name, "a current has no sign here: enter its size");
    return c;
}

} // namespace isochore::calc
