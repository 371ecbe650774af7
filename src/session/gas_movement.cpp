#include "session/gas_movement.h"
#include <algorithm>
#include <array>
#include <charconv>

namespace isochore::session {
namespace {

using P = PlaceKind;

constexpr std::array kinds = {
    MovementKind{"bought", "Cylinder bought", P::outside, P::container, "bought_bulk", true, "Supplier",
                 "Cylinder"},
    MovementKind{"counted",
                 "Container weighed: what it holds",
                 P::none,
                 P::container,
                 {},
                 true,
                 {},
                 "Cylinder or cart"},
    MovementKind{"recovered",
                 "Recovered from a breaker",
                 P::breaker,
                 P::container,
                 {},
                 true,
                 "Breaker",
                 "Cylinder or cart"},
    MovementKind{"filled",
                 "Filled without an outage here",
                 P::container,
                 P::breaker,
                 {},
                 true,
                 "Cylinder or cart",
                 "Breaker"},
    MovementKind{
        "moved", "From container to container", P::container, P::container, {}, true, "From", "Into"},
    MovementKind{"lost", "Lost to the air", P::container, P::air, {}, true, "Cylinder or cart", {}},
    MovementKind{"returned", "Returned to the supplier", P::container, P::outside, "returned_to_supplier",
                 true, "Cylinder or cart", "Supplier"},
    MovementKind{"recycling", "Sent away for recycling", P::container, P::outside, "sent_for_recycling", true,
                 "Cylinder or cart", "Recycler"},
    MovementKind{"recycled", "Back from recycling", P::outside, P::container, "returned_after_recycling",
                 true, "Recycler", "Cylinder or cart"},
    MovementKind{"destroyed", "Sent for destruction", P::container, P::outside, "sent_for_destruction", true,
                 "Cylinder or cart", "To"},
    MovementKind{"sold", "Sold", P::container, P::outside, "sold", true, "Cylinder or cart", "Buyer"},
    MovementKind{"equipment", "Bought inside a breaker", P::outside, P::breaker, "bought_in_equipment", true,
                 "Maker", "Breaker"},
    MovementKind{"equipment_sold", "Sold inside a breaker", P::breaker, P::outside, "sold_in_equipment", true,
                 "Breaker", "Buyer"},
    MovementKind{"nameplate",
                 "New breaker: nameplate mass",
                 P::none,
                 P::breaker,
                 "new_nameplate",
                 true,
                 {},
                 "Breaker"},
    MovementKind{"retired",
                 "Breaker retired: nameplate mass",
                 P::breaker,
                 P::none,
                 "retired_nameplate",
                 true,
                 "Breaker",
                 {}},
    MovementKind{"fill", "Filled in an outage", P::container, P::breaker, {}, false},
    MovementKind{"hoses", "Left in the hoses", P::container, P::hoses, {}, false},
    MovementKind{"handling", "Handling loss", P::container, P::air, {}, false},
    MovementKind{"difference", "Difference of scale and density", P::none, P::none, {}, false},
    MovementKind{"leaked", "Leaked since the last fill", P::breaker, P::air, {}, false},
};

} // namespace

std::span<MovementKind const> movement_kinds()
{
    return kinds;
}

MovementKind const* movement_kind(std::string_view id)
{
    auto const found = std::find_if(kinds.begin(), kinds.end(), [&](auto const& k) { return k.id == id; });
    return found == kinds.end() ? nullptr : &*found;
}

bool is_day(std::string_view text)
{
    if (text.size() != 10 || text[4] != '-' || text[7] != '-')
        return false;
    int year = 0, month = 0, day = 0;
    auto const read = [&](std::size_t at, std::size_t length, int& into) {
        char const* const end = text.data() + at + length;
        return std::from_chars(text.data() + at, end, into).ptr == end && into > 0;
    };
    if (!read(0, 4, year) || !read(5, 2, month) || !read(8, 2, day) || month > 12)
        return false;
    constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool const leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return day <= days[month - 1] + (month == 2 && leap ? 1 : 0);
}

} // namespace isochore::session
