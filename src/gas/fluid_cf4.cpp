#include "gas/fluid_data.h"

namespace isochore::gas {
namespace {

// Coefficients: B. Platzer, A. Polt, G. Maurer, Thermophysical Properties of Refrigerants, Springer-Verlag
// (1990), doi:10.1007/978-3-662-02608-3.
constexpr PowerTerm power[] = {
    {1.03999039734947, 0.0, 1, 0, 1.0},          {-2.4579202542559, 1.0, 1, 0, 1.0},
    {0.799614558381524, 2.0, 1, 0, 1.0},         {-0.749498955282594, 3.0, 1, 0, 1.0},
    {0.152177772596398, 4.0, 1, 0, 1.0},         {-0.293408332036298, 0.0, 2, 0, 1.0},
    {0.717794503774445, 1.0, 2, 0, 1.0},         {-0.0426467444751902, 2.0, 2, 0, 1.0},
    {0.226562749725952, 0.0, 3, 0, 1.0},         {-0.39109169477402, 1.0, 3, 0, 1.0},
    {-0.0257394805543082, 0.0, 4, 0, 1.0},       {0.0554844886106659, 1.0, 4, 0, 1.0},
    {0.00610988262947185, 1.0, 5, 0, 1.0},       {-0.33469874882651, 3.0, 0, 0, 1.0},
    {0.586690904512625, 4.0, 0, 0, 1.0},         {-0.147068929694523, 5.0, 0, 0, 1.0},
    {-0.190315426348019, 3.0, 2, 2, 0.99832625}, {0.716157134745809, 4.0, 2, 2, 0.99832625},
    {-0.703161905301754, 5.0, 2, 2, 0.99832625}, {0.33469874882651, 3.0, 0, 2, 0.99832625},
    {-0.586690904512625, 4.0, 0, 2, 0.99832625}, {0.147068929694523, 5.0, 0, 2, 0.99832625},
};

// cp0/R = sum n T^t
constexpr PowerPair ideal_cp[] = {
    {3.946282613411975, 0.0},      {-0.008858129431283382, 1.0}, {0.0001393877086940782, 2.0},
    {-3.005436298807747e-07, 3.0}, {2.050274501811892e-10, 4.0},
};

// Start values for the saturation line only; the answer comes from the equation. Fits of the
// CoolProp project (MIT) to the equation.
constexpr PowerPair start_pressure[] = {
    {0.04320524355479352, 0.058}, {-0.08138636451472522, 0.136},
    {0.14428668233243508, 0.36},  {-1.587068436457817, 0.8333333333333334},
    {-4.5171616562403365, 1.0},   {-2.7541765705090198, 3.8333333333333335},
};

constexpr PowerPair start_liquid[] = {
    {129.2110005451294, 0.055},
    {8780.472954819723, 0.111},
    {-3507.774533268308, 0.1},
    {-5406.157576410963, 0.117},
    {6.638240696847442, 0.39499999999999996},
    {0.27973697758760946, 2.5},
};

constexpr PowerPair start_vapour[] = {
    {-59.51239487319891, 0.1},
    {74.31936386072647, 0.113},
    {-38153.79585178045, 0.373},
    {48521.17526050439, 0.3755},
    {-10387.203195536424, 0.38449999999999995},
    {-4.015512941871523, 4.0},
};

} // namespace

FluidData const& cf4_data()
{
    static FluidData const data = {
        .name = "CF4",
        .citation = "B. Platzer, A. Polt, G. Maurer, Thermophysical Properties of Refrigerants, "
                    "Springer-Verlag (1990), doi:10.1007/978-3-662-02608-3",
        .molar_mass_kg_mol = 0.0880046,
        .gas_constant_j_mol_k = 8.31451,
        .reducing_temperature_k = 227.51,
        .reducing_density_mol_m3 = 7109.4194,
        .critical_temperature_k = 227.51,
        .critical_pressure_pa = 3750000.0,
        .critical_density_mol_m3 = 7109.419400000001,
        .least_temperature_k = 89.54,
        .greatest_temperature_k = 623.0,
        .greatest_pressure_pa = 51000000.0,
        .least_vapour_pressure_pa = 11294.329044413662,
        .pure = true,
        // From memory, and the least sure of all: 0.5 % in density of the gas, 1 % near saturation. Taken as
        // 95 % limits and halved.
        .u_density_gas = 0.0025,
        .u_density_near_saturation = 0.005,
        .power = power,
        .gaussian = {},
        .non_analytic = {},
        .ideal_log_tau = -1.0,
        .ideal_power = {},
        .ideal_einstein = {},
        .ideal_cp = ideal_cp,
        .start_pressure = {start_pressure, 227.51, 3750000.0, true, false},
        .start_liquid = {start_liquid, 227.51, 7109.419400000001, false, true},
        .start_vapour = {start_vapour, 227.51, 7109.419400000001, true, false},
    };
    return data;
}

} // namespace isochore::gas
