#include "gas/emissions.h"

namespace isochore::gas {

UserEmissions user_emissions_kg(YearOfGas const& y)
{
    UserEmissions e;
    e.decrease_in_inventory = y.stored_start - y.stored_end;
    e.acquisitions = y.bought_bulk + y.bought_in_equipment + y.returned_after_recycling;
    e.disbursements =
        y.sold + y.sold_in_equipment + y.returned_to_supplier + y.sent_for_destruction + y.sent_for_recycling;
    e.net_nameplate_increase = y.new_nameplate - y.retired_nameplate;
    e.total = e.decrease_in_inventory + e.acquisitions - e.disbursements - e.net_nameplate_increase;
    return e;
}

} // namespace isochore::gas
