#pragma once
#include "app/desk.h"

namespace isochore::app {

/// The kit of the outage to tick off before it begins, and the plan it follows from. What is in hand, and the
/// dates of calibration, are entries of the outage.
class PreparePage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    void tap_row(Desk& desk, std::string const& name);
    void type_due(Desk& desk, std::string const& name);
    /// The plan is worked out once an entry was added, not in every frame.
    void work_out(Desk& desk);

    bool m_missing_only = false;
    std::int64_t m_entries = -1;
    std::optional<Result<calc::Answer>> m_plan;
};

} // namespace isochore::app
