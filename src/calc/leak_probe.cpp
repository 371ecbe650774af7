#include "calc/leak_probe.h"
#include "calc/gas_inputs.h"
#include "calc/leak_limit.h"
#include "calc/usual.h"
#include "gas/leak.h"
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using Code = Error::Code;

/// Smallest leak at one spot that the method would have shown, in kg/s.
double detectable(Inputs& in, gas::Species species, bool soap)
{
    // A checklist hands over what it has for either method; the other one's figures do not count.
    for (char const* other : {"sensitivity", "bubble", "watched", "temperature", "baro", "altitude"})
        in.raw(other);
    if (!soap)
        return read_leak_rate(in, "sensitivity", species, 0.0);
    double const bubble = in.quantity("bubble", Dimension::length);
    double const watched = in.quantity("watched", Dimension::time);
    double const temperature = in.quantity("temperature", Dimension::temperature);
    double const outside = in.barometer();
    if (!in.error() && !(bubble > 0.0 && bubble < 0.05))
        in.refuse(Code::out_of_range, "bubble",
                  "is the smallest bubble that would be noticed, above zero and below 50 mm");
    if (!in.error() && !(watched > 0.0 && temperature > 0.0))
        in.refuse(Code::out_of_range, watched > 0.0 ? "temperature" : "watched", "must be above zero");
    if (in.error())
        return 1e-9;
    return gas::mass_flow_kg_s(species, gas::bubble_throughput_pa_m3_s(bubble, watched, outside),
                               temperature);
}

constexpr char const* here = "leak.probe";

/// A detector probes against what is in the air already: a background near its threshold hides a leak. True
/// when it does, so that nothing found says less than the detector's own figure.
bool hidden_by_background(Inputs& in, Answer& answer)
{
    auto const background = in.optional_quantity("background_ppmv", Dimension::fraction);
    auto const threshold = in.optional_quantity("threshold_ppmv", Dimension::fraction);
    if (in.error() || !background)
        return false;
    answer.add("background", *background * 1e6, "ppmv");
    if (!threshold) {
        answer.notes.push_back(
            fmt::format("background {:.3g} ppmv; without the detector's own threshold in ppmv nothing can be "
                        "said of what it hides",
                        *background * 1e6));
        return false;
    }
    double const share = usual_si(here, "background_share", Dimension::fraction);
    bool const good = *background < share * *threshold;
    answer.checks.push_back(
        {"background", good ? Verdict::pass : Verdict::undecided,
         fmt::format("background {:.3g} ppmv, detector threshold {:.3g} ppmv", *background * 1e6,
                     *threshold * 1e6),
         good
             ? ""
             : fmt::format("bring the background below {:.3g} ppmv: let the wind clear the air or shield the "
                           "joint, zero the detector upwind, and probe again",
                           share * *threshold * 1e6),
         ""});
    return !good;
}

} // namespace

Result<Answer> leak_probe(Inputs& in)
{
    gas::Species const species = read_gas(in);
    bool const soap = in.one_of("method", {"soap_film", "detector"}) == "soap_film";
    std::string const instrument = in.text_or("instrument", soap ? "soap film" : "");
    if (!in.error() && instrument.empty())
        in.refuse(Code::missing_input, "instrument",
                  "name the detector: its record says what was able to find a leak");
    double const spot = in.error() ? 1e-9 : detectable(in, species, soap);
    int const spots = in.whole("spots", 1, 10000);
    int const found = in.whole_or("found", 0, 10000, 0);
    double const gas_mass = in.quantity_or("gas_mass", Dimension::mass, 0.0);
    auto const limit = in.error() ? std::nullopt : read_leak_limit(in, "limit", species, gas_mass);
    Answer answer;
    bool const hidden = hidden_by_background(in, answer);
    if (in.error())
        return tl::unexpected(*in.error());

    double const total = spot * spots;
    answer.add("detectable", spot, "kg/s");
    answer.add("detectable_throughput", gas::throughput_pa_m3_s(species, spot, 293.15), "Pa m3/s");
    answer.add("detectable_annual", spot * gas::year_s, "kg");
    answer.add("undetected_total", total, "kg/s");
    answer.add("undetected_annual", total * gas::year_s, "kg");
    if (limit)
        answer.add("limit_annual", limit->kg_s * gas::year_s, "kg");
    answer.facts["instrument"] = instrument;
    answer.working.push_back(
        {soap ? "q = p (pi/6) d^3/t for one spot; total = spots q" : "total = spots x sensitivity",
         fmt::format("one spot {}, {} spots together {}", mass_a_year(spot), spots, mass_a_year(total)),
         soap ? "volume of a sphere, ideal gas" : "the detector's own data"});
    answer.notes.push_back("probing finds where gas comes out; it does not measure how much");
    if (found > 0)
        answer.checks.push_back(
            {"found", Verdict::fail, fmt::format("{} of {} spots show a leak", found, spots),
             "isolate, recover, re-make each of them with a new seal, and probe again", ""});
    else if (hidden)
        answer.checks.push_back(
            {"found", Verdict::undecided,
             fmt::format(
                 "nothing found at {} spots, but gas in the air hides what the detector would show: {} a "
                 "spot is not proved",
                 spots, mass_a_year(spot)),
             "", ""});
    else
        answer.checks.push_back(
            {"found", Verdict::pass,
             fmt::format("nothing found at {} spots: each leaks less than {}", spots, mass_a_year(spot)), "",
             ""});
    if (limit && found == 0) {
        bool const proved = total <= limit->kg_s && !hidden;
        answer.checks.push_back(
            {"leak", proved ? Verdict::pass : Verdict::undecided,
             fmt::format("what {} spots could hide together, {}, against {} ({})", spots, mass_a_year(total),
                         mass_a_year(limit->kg_s), limit->typed),
             proved || hidden
                 ? ""
                 : fmt::format("each spot must be shown to leak less than {}: watch longer, or use a "
                               "finer detector or a bag",
                               mass_a_year(limit->kg_s / spots)),
             "guarded"});
    }
    return answer;
}

} // namespace isochore::calc
