#include "gas/fluid_data.h"

namespace isochore::gas {
namespace {

// Coefficients: R. Span, W. Wagner, J. Phys. Chem. Ref. Data 25, 1509-1596 (1996), doi:10.1063/1.555991.
constexpr PowerTerm power[] = {
    {0.388568232032, 0.0, 1, 0, 1.0},    {2.93854759427, 0.75, 1, 0, 1.0},
    {-5.5867188535, 1.0, 1, 0, 1.0},     {-0.767531995925, 2.0, 1, 0, 1.0},
    {0.317290055804, 0.75, 2, 0, 1.0},   {0.548033158978, 2.0, 2, 0, 1.0},
    {0.122794112203, 0.75, 3, 0, 1.0},   {2.16589615432, 1.5, 1, 1, 1.0},
    {1.58417351097, 1.5, 2, 1, 1.0},     {-0.231327054055, 2.5, 4, 1, 1.0},
    {0.0581169164314, 0.0, 5, 1, 1.0},   {-0.553691372054, 1.5, 5, 1, 1.0},
    {0.489466159094, 2.0, 5, 1, 1.0},    {-0.0242757398435, 0.0, 6, 1, 1.0},
    {0.0624947905017, 1.0, 6, 1, 1.0},   {-0.121758602252, 2.0, 6, 1, 1.0},
    {-0.370556852701, 3.0, 1, 2, 1.0},   {-0.0167758797004, 6.0, 1, 2, 1.0},
    {-0.11960736638, 3.0, 4, 2, 1.0},    {-0.0456193625088, 6.0, 4, 2, 1.0},
    {0.0356127892703, 8.0, 4, 2, 1.0},   {-0.00744277271321, 6.0, 7, 2, 1.0},
    {-0.00173957049024, 0.0, 8, 2, 1.0}, {-0.0218101212895, 7.0, 2, 3, 1.0},
    {0.0243321665592, 12.0, 3, 3, 1.0},  {-0.0374401334235, 16.0, 3, 3, 1.0},
    {0.143387157569, 22.0, 5, 4, 1.0},   {-0.134919690833, 24.0, 5, 4, 1.0},
    {-0.0231512250535, 16.0, 6, 4, 1.0}, {0.0123631254929, 24.0, 7, 4, 1.0},
    {0.00210583219729, 8.0, 8, 4, 1.0},  {-0.000339585190264, 2.0, 10, 4, 1.0},
    {0.00559936517716, 28.0, 4, 5, 1.0}, {-0.000303351180556, 14.0, 8, 6, 1.0},
};

// n, t, d, eta, epsilon, beta, gamma
constexpr GaussianTerm gaussian[] = {
    {-213.654886883, 1.0, 2, 25.0, 1.0, 325.0, 1.16}, {26641.5691493, 0.0, 2, 25.0, 1.0, 300.0, 1.19},
    {-24027.2122046, 1.0, 2, 25.0, 1.0, 300.0, 1.19}, {-283.41603424, 3.0, 3, 15.0, 1.0, 275.0, 1.25},
    {212.472844002, 3.0, 3, 20.0, 1.0, 275.0, 1.22},
};

// n, a, b, beta, A, B, C, D
constexpr NonAnalyticTerm non_analytic[] = {
    {-0.666422765408, 3.5, 0.875, 0.3, 0.7, 0.3, 10.0, 275.0},
    {0.726086323499, 3.5, 0.925, 0.3, 0.7, 0.3, 10.0, 275.0},
    {0.0550686686128, 3.0, 0.875, 0.3, 0.7, 1.0, 12.5, 275.0},
};

// n ln(c + d exp(theta tau))
constexpr EinsteinTerm ideal_einstein[] = {
    {1.99427042, -3.15163, 1.0, -1.0},  {0.62105248, -6.1119, 1.0, -1.0},   {0.41195293, -6.77708, 1.0, -1.0},
    {1.04028922, -11.32384, 1.0, -1.0}, {0.08327678, -27.08792, 1.0, -1.0},
};

// Start values for the saturation line only; the answer comes from the equation. Fits of the
// CoolProp project (MIT) to the equation.
constexpr PowerPair start_pressure[] = {
    {-5.867399337600407, 0.983}, {-7.10969550015274, 1.322},  {11.022781986239263, 1.488},
    {4.8260764050219995, 2.807}, {-6.240803382557819, 3.571}, {-6.7009642572439, 1.941},
};

constexpr PowerPair start_liquid[] = {
    {0.861951794789174, 0.264}, {5.535795098719573, 0.672},   {-21.766373764605415, 0.986},
    {20.01416999278327, 1.092}, {-2.2218647220786862, 1.714}, {888.2387848519858, 9.902},
};

constexpr PowerPair start_vapour[] = {
    {-1.1635587811569494, 0.306}, {-3.64216164754343, 0.569},   {2.7773118075713237, 0.677},
    {-3.2573848494624533, 0.891}, {-1.9739104682508852, 3.206}, {-16.057319994659142, 6.093},
};

} // namespace

FluidData const& co2_data()
{
    static FluidData const data = {
        .name = "CO2",
        .citation = "R. Span, W. Wagner, J. Phys. Chem. Ref. Data 25, 1509-1596 (1996), doi:10.1063/1.555991",
        .molar_mass_kg_mol = 0.0440098,
        .gas_constant_j_mol_k = 8.31451,
        .reducing_temperature_k = 304.1282,
        .reducing_density_mol_m3 = 10624.9063,
        .critical_temperature_k = 304.1282,
        .critical_pressure_pa = 7377300.0,
        .critical_density_mol_m3 = 10624.9063,
        .least_temperature_k = 216.592,
        .greatest_temperature_k = 2000.0,
        .greatest_pressure_pa = 800000000.0,
        .least_vapour_pressure_pa = 517964.36480694986,
        .pure = true,
        // From memory: the paper claims 0.03 % to 0.05 % in density up to 30 MPa and 523 K. The larger one is
        // taken as a 95 % limit and halved, near saturation too.
        .u_density_gas = 0.00025,
        .u_density_near_saturation = 0.00025,
        .power = power,
        .gaussian = gaussian,
        .non_analytic = non_analytic,
        .ideal_log_tau = 2.5,
        .ideal_power = {},
        .ideal_einstein = ideal_einstein,
        .ideal_cp = {},
        .start_pressure = {start_pressure, 304.1282, 7377300.0, true, false},
        .start_liquid = {start_liquid, 304.1282, 10624.906299999999, false, true},
        .start_vapour = {start_vapour, 304.1282, 10624.906299999999, true, false},
    };
    return data;
}

} // namespace isochore::gas
