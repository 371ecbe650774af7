#pragma once
#include "quantity/result.h"
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace isochore::session {

/// Where gas can be. Only containers (cylinders, carts) are the inventory of 40 CFR 98 subpart DD: gas in
/// hoses and in breakers is not stored.
enum class PlaceKind { none, container, breaker, hoses, air, outside };

/// The term of the yearly balance a movement goes into, by its name as an input of emissions.balance.
struct MovementKind {
    std::string_view id, label;
    PlaceKind from, to;
    std::string_view term = {}; ///< empty: no term of its own
    bool desk = true;           ///< may be typed at a desk
    std::string_view from_label = {}, to_label = {};
};

/// The closed set of kinds. `counted` sets what a container holds; a nameplate moves no gas.
[[nodiscard]] std::span<MovementKind const> movement_kinds();
[[nodiscard]] MovementKind const* movement_kind(std::string_view id);

/// One movement of gas as the ledger has it. Masses in kg.
struct GasMovement {
    std::string day;  ///< "2026-11-25"
    std::string kind; ///< a MovementKind
    std::string from, to;
    double mass_kg = 0.0;
    std::optional<double> u_kg; ///< standard uncertainty
    std::string typed;          ///< the mass as typed at the desk
    std::string note, at, who;
    std::int64_t entry = -1;       ///< number in the ledger's journal
    std::string outage;            ///< the outage it arises from; empty: typed at a desk
    std::int64_t outage_entry = 0; ///< the entry of that outage
    std::string step;              ///< its step
    bool reopened = false;         ///< an input was corrected in the outage and the account not yet repeated
    std::string withdrawn;         ///< why it no longer counts; empty: in force
    std::string superseded_by;     ///< the booking that corrects it; empty: none
    [[nodiscard]] bool in_force() const { return withdrawn.empty() && superseded_by.empty(); }
};

/// The days of the calendar: "2026-02-30" is none.
[[nodiscard]] bool is_day(std::string_view text);

} // namespace isochore::session
