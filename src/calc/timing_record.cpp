#include "calc/timing_record.h"
#include "calc/comtrade_files.h"
#include "calc/show_electric.h"
#include "electrical/comtrade_text.h"
#include "electrical/operation.h"
#include "uncertainty/interval.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace electrical;
using Code = Error::Code;
using uncertainty::normal_coverage;

std::string ms(double s)
{
    return fmt::format("{:.2f} ms", s * 1e3);
}

/// Position of a channel by number ("A3") or by name, in any case of letters.
template <class Channel>
std::optional<std::size_t> find_channel(std::vector<Channel> const& all, std::string const& wanted,
                                        char letter)
{
    std::string const low = lower_case(trimmed(wanted));
    for (std::size_t i = 0; i < all.size(); ++i)
        if (low == lower_case(trimmed(all[i].name)) || low == fmt::format("{}{}", letter, i + 1))
            return i;
    return std::nullopt;
}

struct Roles {
    std::string trip;
    std::optional<double> trip_threshold;
    std::vector<std::string> contacts, currents;
    std::optional<double> current_threshold;
};

std::vector<std::string> read_names(Inputs& in, char const* name)
{
    std::vector<std::string> names;
    Json const& j = in.raw(name);
    if (j.is_string())
        names.push_back(j.get<std::string>());
    else if (j.is_array())
        for (Json const& one : j)
            if (one.is_string())
                names.push_back(one.get<std::string>());
            else
                in.refuse(Code::invalid_input, name,
                          "each channel is a name or a number such as \"A1\" in quotes");
    else if (!j.is_null())
        in.refuse(Code::invalid_input, name, "must be a channel name or a list of them");
    return names;
}

Roles read_roles(Inputs& in)
{
    Roles roles;
    Inputs from = in.object("roles");
    roles.trip = from.text_or("trip", "");
    roles.trip_threshold = from.optional_quantity("trip_threshold", Dimension::voltage);
    roles.contacts = read_names(from, "contacts");
    roles.currents = read_names(from, "currents");
    roles.current_threshold = from.optional_quantity("current_threshold", Dimension::current);
    from.refuse_unread();
    in.absorb(from);
    return roles;
}

void list_channels(Answer& answer, Comtrade const& r)
{
    Json analog = Json::array();
    for (std::size_t i = 0; i < r.analog.size(); ++i)
        analog.push_back({{"number", fmt::format("A{}", i + 1)},
                          {"name", r.analog[i].name},
                          {"unit", r.analog[i].unit},
                          {"peak", peak(r.analog[i])},
                          {"values", r.analog[i].primary_values ? "primary" : "secondary"}});
    Json digital = Json::array();
    for (std::size_t i = 0; i < r.digital.size(); ++i) {
        auto const& v = r.digital[i].values;
        int changes = 0;
        for (std::size_t n = 1; n < v.size(); ++n)
            changes += v[n] != v[n - 1] ? 1 : 0;
        digital.push_back(
            {{"number", fmt::format("D{}", i + 1)}, {"name", r.digital[i].name}, {"changes", changes}});
    }
    answer.facts["analog"] = std::move(analog);
    answer.facts["digital"] = std::move(digital);
    answer.facts["station"] = r.station;
    answer.facts["start"] = r.start;
    answer.add("samples", static_cast<double>(r.times_s.size()), "1");
    answer.add("duration", r.times_s.back(), "s");
    if (r.trigger_s)
        answer.add("trigger", *r.trigger_s, "s");
    for (auto const& w : r.warnings)
        answer.notes.push_back("Record: " + w + ".");
}

/// Current in A whatever the channel's unit says.
double threshold_in_unit(AnalogChannel const& c, double amps)
{
    return lower_case(c.unit) == "ka" ? amps / 1e3 : lower_case(c.unit) == "ma" ? amps * 1e3 : amps;
}

Result<Instant> trip_instant(Inputs& in, Comtrade const& r, Roles const& roles)
{
    if (auto const d = find_channel(r.digital, roles.trip, 'd'))
        return first_on(r, r.digital[*d]);
    if (auto const a = find_channel(r.analog, roles.trip, 'a')) {
        AnalogChannel const& c = r.analog[*a];
        if (!roles.trip_threshold)
            in.note("trip_threshold not given: taken as half the peak of the trip channel");
        return first_above(r, c, roles.trip_threshold.value_or(0.5 * peak(c)));
    }
    return fail(Code::unknown, "inputs.roles.trip",
                fmt::format("the record has no channel \"{}\"", roles.trip));
}

/// A time since the trip with its uncertainty, held against an optional limit.
void add_time(Answer& answer, std::string const& name, Instant const& at, Instant const& trip)
{
    double const u = std::hypot(at.u_s, trip.u_s);
    double const value = at.time_s - trip.time_s;
    answer.results.push_back({name, value, "s", u, value - normal_coverage * u, value + normal_coverage * u});
}

void judge(Inputs& in, Answer& answer, char const* limit_name, char const* result, std::string const& what)
{
    auto const limit = in.optional_quantity(limit_name, Dimension::time);
    Figure const* f = answer.find(result);
    if (!limit || !f)
        return;
    double const reach = normal_coverage * f->u.value_or(0.0);
    Verdict const v = f->value + reach <= *limit  ? Verdict::pass
                      : f->value - reach > *limit ? Verdict::fail
                                                  : Verdict::undecided;
    std::string remedy;
    if (v == Verdict::undecided && f->value != *limit)
        remedy = fmt::format("Would be decided by sampling at {:.1f} kHz or more.",
                             normal_coverage * std::sqrt(2.0 / 12.0) / std::fabs(*limit - f->value) / 1e3);
    else if (v == Verdict::undecided)
        remedy = "The value lies on the limit: operate again and record faster.";
    else if (v == Verdict::fail)
        remedy = "Operate again to confirm; then the mechanism is for the maker's instructions.";
    answer.checks.push_back({result, v,
                             fmt::format("{} {} ± {}, limit {}", what, ms(f->value), ms(reach), ms(*limit)),
                             remedy, "guarded"});
}

Result<std::vector<Instant>> contact_times(Answer& answer, Comtrade const& r, Roles const& roles,
                                           Instant const& trip)
{
    std::vector<Instant> times;
    Json list = Json::array();
    for (auto const& name : roles.contacts) {
        auto const d = find_channel(r.digital, name, 'd');
        if (!d)
            return fail(Code::unknown, "inputs.roles.contacts",
                        fmt::format("the record has no digital channel \"{}\"", name));
        auto const change = contact_change(r, r.digital[*d], trip.time_s);
        if (!change)
            return tl::unexpected(change.error());
        add_time(answer, times.empty() ? "contact_time" : fmt::format("contact_time_{}", times.size() + 1),
                 change->first, trip);
        list.push_back({{"channel", r.digital[*d].name},
                        {"time", figure_fact(change->first.time_s - trip.time_s, "s")},
                        {"bounce", figure_fact(change->settled.time_s - change->first.time_s, "s")},
                        {"becomes", change->becomes}});
        times.push_back(change->first);
    }
    answer.facts["contacts"] = std::move(list);
    return times;
}

Result<std::vector<Instant>> clearing_times(Inputs& in, Answer& answer, Comtrade const& r, Roles const& roles,
                                            Instant const& trip)
{
    std::vector<Instant> times;
    Json list = Json::array();
    for (auto const& name : roles.currents) {
        auto const a = find_channel(r.analog, name, 'a');
        if (!a)
            return fail(Code::unknown, "inputs.roles.currents",
                        fmt::format("the record has no analogue channel \"{}\"", name));
        AnalogChannel const& c = r.analog[*a];
        if (!roles.current_threshold)
            in.note(
                "current_threshold not given: a current counts as flowing above 5 % of the channel's peak");
        auto const end = current_ends(
            r, c, roles.current_threshold ? threshold_in_unit(c, *roles.current_threshold) : 0.05 * peak(c));
        if (!end)
            return tl::unexpected(end.error());
        list.push_back({{"channel", c.name}, {"clears", figure_fact(end->time_s - trip.time_s, "s")}});
        times.push_back(*end);
    }
    answer.facts["poles"] = std::move(list);
    return times;
}

void add_spread(Answer& answer, std::string const& name, std::vector<Instant> const& times)
{
    auto const [least, most] = std::minmax_element(
        times.begin(), times.end(), [](auto const& a, auto const& b) { return a.time_s < b.time_s; });
    double const u = std::hypot(least->u_s, most->u_s);
    double const value = most->time_s - least->time_s;
    answer.results.push_back(
        {name, value, "s", u, std::max(0.0, value - normal_coverage * u), value + normal_coverage * u});
}

Result<void> work_out(Inputs& in, Answer& answer, Comtrade const& r, Roles const& roles)
{
    auto const trip = trip_instant(in, r, roles);
    if (!trip)
        return tl::unexpected(trip.error());
    answer.results.push_back({"trip_time", trip->time_s, "s", trip->u_s, trip->time_s - normal_coverage * trip->u_s,
                              trip->time_s + normal_coverage * trip->u_s});
    auto const contacts = contact_times(answer, r, roles, *trip);
    if (!contacts)
        return tl::unexpected(contacts.error());
    auto const poles = clearing_times(in, answer, r, roles, *trip);
    if (!poles)
        return tl::unexpected(poles.error());
    if (!poles->empty()) {
        auto const last = std::max_element(poles->begin(), poles->end(),
                                           [](auto const& a, auto const& b) { return a.time_s < b.time_s; });
        add_time(answer, "clearing_time", *last, *trip);
    }
    if (contacts->size() > 1)
        add_spread(answer, "pole_spread", *contacts);
    else if (poles->size() > 1) {
        add_spread(answer, "pole_spread", *poles);
        answer.notes.push_back(
            "The spread is that of the last current zeros. In a three-phase current these come a sixth "
            "of a cycle apart by themselves, so it is no measure of the contacts' parting.");
    }
    answer.working.push_back({"time = instant - trip; u = sampling interval / sqrt 12 for each instant",
                              fmt::format("trip at {} of the record, interval {}", ms(trip->time_s),
                                          r.times_s.size() > 1 ? ms(r.times_s[1] - r.times_s[0]) : "none"),
                              "JCGM 100, 4.3.7; format IEEE C37.111 (from memory)"});
    return {};
}

} // namespace

Result<Answer> timing_record(Inputs& in)
{
    std::string const path = in.text("path");
    auto const frequency = in.optional_quantity("frequency", Dimension::frequency);
    bool const with_roles = in.has("roles");
    Roles const roles = read_roles(in);
    if (!in.error() && with_roles && roles.trip.empty())
        in.refuse(Code::missing_input, "roles",
                  "trip names the channel that shows the energised coil: it is required");
    if (frequency && !(*frequency > 0.0))
        in.refuse(Code::out_of_range, "frequency", "must be above zero");
    if (in.error())
        return tl::unexpected(*in.error());
    auto record = read_comtrade_files(path, in.place("path"));
    if (!record)
        return tl::unexpected(record.error());
    if (frequency)
        record->frequency_hz = *frequency;
    Answer answer;
    list_channels(answer, *record);
    for (char const* limit : {"clearing_limit", "contact_limit", "spread_limit"})
        (void)in.raw(limit);
    if (!with_roles) {
        answer.notes.push_back(
            "No roles are given: choose the trip channel, the contacts and the currents from the list.");
        return answer;
    }
    if (auto const done = work_out(in, answer, *record, roles); !done)
        return tl::unexpected(done.error());
    judge(in, answer, "clearing_limit", "clearing_time", "clearing time");
    judge(in, answer, "contact_limit", "contact_time", "contact time");
    judge(in, answer, "spread_limit", "pole_spread", "spread of the poles");
    return answer;
}

} // namespace isochore::calc
