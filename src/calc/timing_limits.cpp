#include "calc/timing_limits.h"
#include "calc/show_electric.h"
#include "quantity/amount.h"
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using Code = Error::Code;

/// Cycles as "3 cycles", or a plain 3: the name of the input already says the unit.
double read_cycles(Inputs& in, char const* name)
{
    Json const& j = in.raw(name);
    double cycles = 1.0;
    if (j.is_number()) {
        cycles = j.get<double>();
    } else if (j.is_string() && parse_number(j.get<std::string>(), name)) {
        cycles = *parse_number(j.get<std::string>(), name);
    } else {
        cycles = in.quantity(name, Dimension::cycles);
    }
    if (!in.error() && (!(cycles > 0.0) || cycles > 100.0))
        in.refuse(Code::out_of_range, name,
                  fmt::format("{:g} cycles is outside 0 to 100: rated interrupting times are a few cycles",
                              cycles));
    return in.error() ? 1.0 : cycles;
}

/// A tolerance is a share ("10 %") or a time ("5 ms"); returned in s.
double read_tolerance(Inputs& in, double rated_s)
{
    if (!in.has("tolerance")) {
        (void)in.raw("tolerance");
        in.note("tolerance not given: taken as none, so the limits are the rated time itself");
        return 0.0;
    }
    std::string const typed = in.text("tolerance");
    if (in.error())
        return 0.0;
    auto const share = parse_amount(typed, Dimension::fraction, in.place("tolerance"));
    auto const time = parse_amount(typed, Dimension::time, in.place("tolerance"));
    if (!share && !time)
        in.refuse(
            Code::invalid_input, "tolerance",
            fmt::format("\"{}\" is neither a share such as \"10 %\" nor a time such as \"5 ms\"", typed));
    double const tolerance_s = time ? time->si : share ? share->si * rated_s : 0.0;
    if (!in.error() && (tolerance_s < 0.0 || tolerance_s >= rated_s))
        in.refuse(Code::out_of_range, "tolerance",
                  fmt::format("\"{}\" must be positive and smaller than the rated time", typed));
    return tolerance_s;
}

constexpr struct {
    char const* input;
    char const* result;
    char const* name; ///< in words, so that another language can say it
} spreads[] = {{"opening_spread", "opening_spread_limit", "pole spread, opening"},
               {"closing_spread", "closing_spread_limit", "pole spread, closing"},
               {"series_opening_spread", "series_opening_spread_limit", "breaks in series, opening"},
               {"series_closing_spread", "series_closing_spread_limit", "breaks in series, closing"}};

} // namespace

Result<Answer> timing_limits(Inputs& in)
{
    double const cycles = read_cycles(in, "interrupting_cycles");
    double const hertz = in.quantity("frequency", Dimension::frequency);
    if (!in.error() && (hertz < 10.0 || hertz > 400.0))
        in.refuse(Code::out_of_range, "frequency",
                  fmt::format("{:g} Hz is no power frequency: expected 50 Hz or 60 Hz", hertz));
    if (in.error())
        return tl::unexpected(*in.error());
    double const rated_s = cycles / hertz;
    double const tolerance_s = read_tolerance(in, rated_s);

    Answer answer;
    answer.add("interrupting_time", rated_s, "s");
    answer.add("lower_limit", rated_s - tolerance_s, "s");
    answer.add("upper_limit", rated_s + tolerance_s, "s");
    answer.add("cycle", 1.0 / hertz, "s");
    answer.working.push_back(
        {"t = n / f",
         fmt::format("{:g} / {:g} Hz = {}", cycles, hertz, show_scaled(rated_s, Dimension::time, 5)),
         "rated interrupting time in cycles of the rated frequency, IEEE C37.04 (from memory)"});
    for (auto const& s : spreads)
        if (in.has(s.input)) {
            double const n = read_cycles(in, s.input);
            answer.add(s.result, n / hertz, "s");
            answer.working.push_back({"t = n / f",
                                      fmt::format("{}: {:g} / {:g} Hz = {}", s.name, n, hertz,
                                                  show_scaled(n / hertz, Dimension::time, 4)),
                                      "the limit is the input's"});
        } else {
            (void)in.raw(s.input);
        }
    answer.notes.push_back(
        "Interrupting time runs from the energised coil to the last arc out; opening time ends "
        "earlier, when the contacts part. The maker's own limits come first.");
    return answer;
}

} // namespace isochore::calc
