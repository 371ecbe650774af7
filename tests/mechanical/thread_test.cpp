#include "mechanical/thread.h"
#include <catch2/catch.hpp>

using namespace isochore::mechanical;

TEST_CASE("ISO 228-1 pitch and minor diameters follow from major and pitch", "[mechanical][published]")
{
    // Table values of ISO 228-1 (from memory, sure), mm.
    struct Row {
        double tpi, major, pitch, minor;
    };
    for (Row const& r : {Row{28, 9.728, 9.147, 8.566}, Row{19, 13.157, 12.301, 11.445},
                         Row{19, 16.662, 15.806, 14.950}, Row{14, 20.955, 19.793, 18.631},
                         Row{14, 26.441, 25.279, 24.117}, Row{11, 33.249, 31.770, 30.291}}) {
        auto const d = whitworth_diameters(r.major * 1e-3, 0.0254 / r.tpi);
        CAPTURE(r.major);
        CHECK(d.pitch_m * 1e3 == Approx(r.pitch).epsilon(0).margin(0.0011));
        CHECK(d.minor_m * 1e3 == Approx(r.minor).epsilon(0).margin(0.0011));
    }
}

TEST_CASE("ASME B1.20.1 small-end diameter and thread length follow from pipe and pitch",
          "[mechanical][published]")
{
    // E0 and L2 in inches from ASME B1.20.1 (outside diameters and threads from memory, sure).
    struct Row {
        double od, tpi, e0, l2;
    };
    for (Row const& r : {Row{0.405, 27, 0.36351, 0.2639}, Row{0.540, 18, 0.47739, 0.4018},
                         Row{0.675, 18, 0.61201, 0.4078}, Row{0.840, 14, 0.75843, 0.5337},
                         Row{1.050, 14, 0.96768, 0.5457}, Row{1.315, 11.5, 1.21363, 0.6828}}) {
        auto const d = npt_dimensions(r.od * 0.0254, r.tpi);
        CAPTURE(r.od);
        CHECK(d.e0_m / 0.0254 == Approx(r.e0).epsilon(0).margin(0.00001));
        CHECK(d.l2_m / 0.0254 == Approx(r.l2).epsilon(0).margin(0.00006));
    }
}

TEST_CASE("a 1 in 16 taper is 0.62 mm over 10 mm", "[mechanical]")
{
    Thread t;
    t.taper = 1.0 / 16.0;
    CHECK(taper_difference_m(t, 0.010) * 1e3 == Approx(0.625));
}
