#include "gas/fluid_data.h"

namespace isochore::gas {
namespace {

// Coefficients: E. W. Lemmon, R. T. Jacobsen, S. G. Penoncello, D. G. Friend, J. Phys. Chem. Ref. Data 29(3),
// 331-385 (2000), doi:10.1063/1.1285884.
constexpr PowerTerm power[] = {
    {0.118160747229, 0.0, 1, 0, 1.0},      {0.713116392079, 0.33, 1, 0, 1.0},
    {-1.61824192067, 1.01, 1, 0, 1.0},     {0.0714140178971, 0.0, 2, 0, 1.0},
    {-0.0865421396646, 0.0, 3, 0, 1.0},    {0.134211176704, 0.15, 3, 0, 1.0},
    {0.0112626704218, 0.0, 4, 0, 1.0},     {-0.0420533228842, 0.2, 4, 0, 1.0},
    {0.0349008431982, 0.35, 4, 0, 1.0},    {0.000164957183186, 1.35, 6, 0, 1.0},
    {-0.101365037912, 1.6, 1, 1, 1.0},     {-0.17381369097, 0.8, 3, 1, 1.0},
    {-0.0472103183731, 0.95, 5, 1, 1.0},   {-0.0122523554253, 1.25, 6, 1, 1.0},
    {-0.146629609713, 3.6, 1, 2, 1.0},     {-0.0316055879821, 6.0, 3, 2, 1.0},
    {0.000233594806142, 3.25, 11, 2, 1.0}, {0.0148287891978, 3.5, 1, 3, 1.0},
    {-0.00938782884667, 15.0, 3, 3, 1.0},
};

constexpr PowerPair ideal_power[] = {
    {6.057194e-08, -3.0}, {-2.10274769e-05, -2.0}, {-0.000158860716, -1.0},
    {-13.841928076, 0.0}, {17.275266575, 1.0},     {-0.00019536342, 1.5},
};

// n ln(c + d exp(theta tau))
constexpr EinsteinTerm ideal_einstein[] = {
    {0.791309509, -25.36365, 1.0, -1.0},
    {0.212236768, -16.90741, 1.0, -1.0},
    {-0.197938904, 87.31279, 0.6666666666666666, 1.0},
};

// Start values for the saturation line only; the answer comes from the equation. Fits of the
// CoolProp project (MIT) to the equation.
constexpr PowerPair start_pressure[] = {
    {-0.1567266, 0.5},
    {-5.539635, 1.0},
    {0.7567212, 2.5},
    {-3.514322, 4.0},
};

constexpr PowerPair start_liquid[] = {
    {23549.22872973586, 0.052000000000000005},
    {-36125.479937395976, 0.058},
    {29748.003516251414, 0.08600000000000001},
    {-25536.830521053136, 0.10700000000000001},
    {8367.433264822796, 0.125},
    {1.3265163441261232, 8.0},
};

constexpr PowerPair start_vapour[] = {
    {-2.0466, 0.41},
    {-4.752, 1.0},
    {-13.259, 2.8},
    {-47.652, 6.5},
};

} // namespace

FluidData const& air_data()
{
    static FluidData const data = {
        .name = "Air",
        .citation = "E. W. Lemmon, R. T. Jacobsen, S. G. Penoncello, D. G. Friend, J. Phys. Chem. Ref. Data "
                    "29(3), 331-385 (2000), doi:10.1063/1.1285884",
        .molar_mass_kg_mol = 0.02896546,
        .gas_constant_j_mol_k = 8.31451,
        .reducing_temperature_k = 132.6312,
        .reducing_density_mol_m3 = 10447.7,
        .critical_temperature_k = 132.5306,
        .critical_pressure_pa = 3786000.0,
        .critical_density_mol_m3 = 11830.800000000001,
        .least_temperature_k = 59.75,
        .greatest_temperature_k = 2000.0,
        .greatest_pressure_pa = 2000000000.0,
        .least_vapour_pressure_pa = 2428.869447772259,
        .pure = false,
        // From memory: the paper claims 0.1 % in density for air as a gas. Taken as a 95 % limit and halved;
        // breakers never bring air near its dew line.
        .u_density_gas = 0.0005,
        .u_density_near_saturation = 0.0005,
        .power = power,
        .gaussian = {},
        .non_analytic = {},
        .ideal_log_tau = 2.490888032,
        .ideal_power = ideal_power,
        .ideal_einstein = ideal_einstein,
        .ideal_cp = {},
        .start_pressure = {start_pressure, 132.6312, 3785020.0, true, false},
        .start_liquid = {start_liquid, 132.5306, 11830.800000000001, false, true},
        .start_vapour = {start_vapour, 132.6312, 10447.7, false, false},
    };
    return data;
}

} // namespace isochore::gas
