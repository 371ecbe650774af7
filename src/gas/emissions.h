#pragma once

namespace isochore::gas {

/// A year's figures of one reporter, in kg.
struct YearOfGas {
    double stored_start = 0.0, stored_end = 0.0; ///< in containers, not in energised equipment
    double bought_bulk = 0.0, bought_in_equipment = 0.0, returned_after_recycling = 0.0;
    double sold = 0.0, sold_in_equipment = 0.0, returned_to_supplier = 0.0, sent_for_destruction = 0.0,
           sent_for_recycling = 0.0;
    double new_nameplate = 0.0, retired_nameplate = 0.0;
};

struct UserEmissions {
    double decrease_in_inventory = 0.0, acquisitions = 0.0, disbursements = 0.0, net_nameplate_increase = 0.0;
    double total = 0.0;
};

/// User emissions = decrease in inventory + acquisitions - disbursements - net increase in nameplate
/// capacity. Source  40 CFR 98.303(a), the user-emissions equation (structure read, wording from memory).
[[nodiscard]] UserEmissions user_emissions_kg(YearOfGas const& year);

} // namespace isochore::gas
