#include "calc/thread_rules.h"
#include "calc/usual.h"

namespace isochore::calc {
namespace {

double degrees(char const* name)
{
    return find_unit("deg", Dimension::angle)->from_si(usual_si("fitting.identify", name, Dimension::angle));
}

} // namespace

mechanical::ThreadRules const& thread_rules()
{
    static mechanical::ThreadRules const rules = [] {
        constexpr char const* by_hand = "fitting.identify";
        constexpr char const* alike = "fitting.chain";
        mechanical::ThreadRules r;
        r.gauges = {usual_si(by_hand, "u_diameter", Dimension::length),
                    usual_si(by_hand, "u_pitch", Dimension::length),
                    usual_si(by_hand, "u_taper", Dimension::ratio),
                    degrees("u_flank"),
                    degrees("u_cone"),
                    usual_si(by_hand, "apart", Dimension::count)};
        r.alike = {usual_si(alike, "alike_major", Dimension::length),
                   usual_si(alike, "alike_pitch", Dimension::ratio),
                   usual_si(alike, "alike_tube", Dimension::length),
                   usual_si(alike, "engages_pitch", Dimension::fraction),
                   usual_si(alike, "binds_major", Dimension::length)};
        return r;
    }();
    return rules;
}

mechanical::ThreadGauges const& thread_gauges()
{
    return thread_rules().gauges;
}

} // namespace isochore::calc
