#include "mechanical/identify.h"
#include <algorithm>
#include <cmath>

namespace isochore::mechanical {
namespace {

bool has_gender(Thread const& t, Gender gender)
{
    if (t.family == "R")
        return gender == Gender::male;
    if (t.family == "Rc" || t.family == "Rp")
        return gender == Gender::female;
    return true;
}

double squared(double difference, double u)
{
    return difference * difference / (u * u);
}

/// Standard uncertainty of the diameter: the calliper, and where on a taper it was put.
double diameter_uncertainty(CrestDiameter const& d, ThreadReading const& r)
{
    return std::sqrt(r.u_diameter_m * r.u_diameter_m + d.half_range_m * d.half_range_m / 3.0);
}

double misfit_of(Thread const& t, ThreadReading const& r)
{
    CrestDiameter const d = crest_diameter(t, r.gender);
    double sum = squared(r.diameter_m - d.middle_m, diameter_uncertainty(d, r));
    if (r.pitch_m)
        sum += squared(*r.pitch_m - t.pitch_m, r.u_pitch_m);
    if (r.taper)
        sum += squared(*r.taper - t.taper, r.u_taper);
    if (r.flank_deg)
        sum += squared(*r.flank_deg - t.flank_deg, r.u_flank_deg);
    return sum;
}

} // namespace

CrestDiameter crest_diameter(Thread const& t, Gender gender)
{
    // Basic depth: 2 x 0.640327 P (Whitworth form), 1.0825 P (60 degrees), 1.6 P (American taper pipe
    // thread).
    double const depth = t.flank_deg == 55.0 ? 1.280654 : t.family == "NPT" ? 1.6 : 1.0825;
    CrestDiameter d;
    d.middle_m = t.major_m - (gender == Gender::female ? depth * t.pitch_m : 0.0);
    if (t.taper > 0.0) {
        // A pipe thread is about two thirds of its diameter long.
        d.half_range_m = 0.5 * t.taper * 0.65 * t.major_m;
        // The pipe's outside is the large end of an American thread; the table size of R is mid-length.
        if (t.family == "NPT")
            d.middle_m -= d.half_range_m;
    }
    return d;
}

int measured_count(ThreadReading const& r)
{
    return 1 + (r.pitch_m ? 1 : 0) + (r.taper ? 1 : 0) + (r.flank_deg ? 1 : 0);
}

std::vector<ThreadCandidate> identify_thread(std::vector<Thread> const& library, ThreadReading const& r)
{
    std::vector<ThreadCandidate> all;
    for (Thread const& t : library)
        if (has_gender(t, r.gender))
            all.push_back({t, misfit_of(t, r), 0.0});
    // A normal density is lower where it is wider, so a taper explains a diameter less sharply.
    auto const log_density = [&](ThreadCandidate const& c) {
        return -0.5 * c.misfit - std::log(diameter_uncertainty(crest_diameter(c.thread, r.gender), r));
    };
    std::stable_sort(all.begin(), all.end(),
                     [&](auto const& a, auto const& b) { return log_density(a) > log_density(b); });
    double total = 0.0;
    for (ThreadCandidate& c : all) {
        c.probability = std::exp(log_density(c) - log_density(all.front()));
        total += c.probability;
    }
    for (ThreadCandidate& c : all)
        c.probability /= total;
    return all;
}

std::optional<Distinction> next_measurement(Thread const& a, Thread const& b, ThreadReading const& r,
                                            ThreadGauges const& gauges)
{
    for (Distinction const& d : tell_apart({a, r.gender, Form::face}, {b, r.gender, Form::face}, gauges)) {
        bool const taken = (d.measure == "calliper on the crests") ||
                           (d.measure == "pitch gauge" && r.pitch_m) ||
                           (d.measure == "two diameters 10 mm apart" && r.taper) ||
                           (d.measure == "flank gauge" && r.flank_deg);
        if (!taken)
            return d;
    }
    return std::nullopt;
}

} // namespace isochore::mechanical
