#include "gas/fluid_data.h"

namespace isochore::gas {
namespace {

// Coefficients: R. Span, E. W. Lemmon, R. T. Jacobsen, W. Wagner, A. Yokozeki, J. Phys. Chem. Ref. Data 29,
// 1361-1433 (2000), doi:10.1063/1.1349047.
constexpr PowerTerm power[] = {
    {0.924803575275, 0.25, 1, 0, 1.0},    {-0.492448489428, 0.875, 1, 0, 1.0},
    {0.661883336938, 0.5, 2, 0, 1.0},     {-1.92902649201, 0.875, 2, 0, 1.0},
    {-0.0622469309629, 0.375, 3, 0, 1.0}, {0.349943957581, 0.75, 3, 0, 1.0},
    {0.564857472498, 0.5, 1, 1, 1.0},     {-1.61720005987, 0.75, 1, 1, 1.0},
    {-0.481395031883, 2.0, 1, 1, 1.0},    {0.421150636384, 1.25, 3, 1, 1.0},
    {-0.0161962230825, 3.5, 3, 1, 1.0},   {0.172100994165, 1.0, 4, 1, 1.0},
    {0.00735448924933, 0.5, 6, 1, 1.0},   {0.0168077305479, 3.0, 6, 1, 1.0},
    {-0.00107626664179, 0.0, 7, 1, 1.0},  {-0.0137318088513, 2.75, 7, 1, 1.0},
    {0.000635466899859, 0.75, 8, 1, 1.0}, {0.00304432279419, 2.5, 8, 1, 1.0},
    {-0.0435762336045, 4.0, 1, 2, 1.0},   {-0.0723174889316, 6.0, 2, 2, 1.0},
    {0.0389644315272, 6.0, 3, 2, 1.0},    {-0.021220136391, 3.0, 4, 2, 1.0},
    {0.00408822981509, 3.0, 5, 2, 1.0},   {-5.51990017984e-05, 6.0, 8, 2, 1.0},
    {-0.0462016716479, 16.0, 4, 3, 1.0},  {-0.00300311716011, 11.0, 5, 3, 1.0},
    {0.0368825891208, 15.0, 5, 3, 1.0},   {-0.0025585684622, 12.0, 8, 3, 1.0},
    {0.00896915264558, 12.0, 3, 4, 1.0},  {-0.0044151337035, 7.0, 5, 4, 1.0},
    {0.00133722924858, 4.0, 6, 4, 1.0},   {0.000264832491957, 16.0, 9, 4, 1.0},
};

// n, t, d, eta, epsilon, beta, gamma
constexpr GaussianTerm gaussian[] = {
    {19.6688194015, 0.0, 1, 20.0, 1.0, 325.0, 1.16},
    {-20.911560073, 1.0, 1, 20.0, 1.0, 325.0, 1.16},
    {0.0167788306989, 2.0, 3, 15.0, 1.0, 300.0, 1.13},
    {2627.67566274, 3.0, 2, 25.0, 1.0, 275.0, 1.25},
};

constexpr PowerPair ideal_power[] = {
    {-0.0001934819, -1.0},
    {-1.247742e-05, -2.0},
    {6.678326e-08, -3.0},
};

// n ln(c + d exp(theta tau))
constexpr EinsteinTerm ideal_einstein[] = {
    {1.012941, -26.657878470901483, 1.0, -1.0},
};

// Start values for the saturation line only; the answer comes from the equation. Fits of the
// CoolProp project (MIT) to the equation.
constexpr PowerPair start_pressure[] = {
    {7.557523110967278, 0.945},  {-15.31423072093374, 0.976}, {2.530452363947435, 1.134},
    {-3.5464937257192077, 4.43}, {2.4443140451500853, 4.942}, {-1.089727092432518, 6.222},
};

constexpr PowerPair start_liquid[] = {
    {3.423788275604014, 0.396},   {-2.9664673074957677, 0.549}, {12.095926119341373, 1.037},
    {-13.681823050784574, 1.209}, {4.19110684294756, 1.682},    {-0.6241396008655289, 2.819},
};

constexpr PowerPair start_vapour[] = {
    {-2.412387653165135, 0.369}, {1.2535963572601478, 0.556}, {-6.375300212535008, 0.878},
    {3.257106728291224, 1.049},  {-3.263645679265735, 4.174}, {1.2673447905058262, 6.303},
};

} // namespace

FluidData const& n2_data()
{
    static FluidData const data = {
        .name = "N2",
        .citation = "R. Span, E. W. Lemmon, R. T. Jacobsen, W. Wagner, A. Yokozeki, J. Phys. Chem. Ref. Data "
                    "29, 1361-1433 (2000), doi:10.1063/1.1349047",
        .molar_mass_kg_mol = 0.02801348,
        .gas_constant_j_mol_k = 8.31451,
        .reducing_temperature_k = 126.192,
        .reducing_density_mol_m3 = 11183.901464580624,
        .critical_temperature_k = 126.19200000000001,
        .critical_pressure_pa = 3395800.0,
        .critical_density_mol_m3 = 11183.901464580624,
        .least_temperature_k = 63.151,
        .greatest_temperature_k = 2000.0,
        .greatest_pressure_pa = 2200000000.0,
        .least_vapour_pressure_pa = 12519.79537858119,
        .pure = true,
        // From memory: the paper claims 0.02 % in density below 12 MPa. Taken as a 95 % limit and halved;
        // near saturation the same for want of a figure of its own.
        .u_density_gas = 0.0001,
        .u_density_near_saturation = 0.0001,
        .power = power,
        .gaussian = gaussian,
        .non_analytic = {},
        .ideal_log_tau = 2.5,
        .ideal_power = ideal_power,
        .ideal_einstein = ideal_einstein,
        .ideal_cp = {},
        .start_pressure = {start_pressure, 126.192, 3395800.0, true, false},
        .start_liquid = {start_liquid, 126.192, 11183.901464580624, false, true},
        .start_vapour = {start_vapour, 126.192, 11183.901464580624, true, false},
    };
    return data;
}

} // namespace isochore::gas
