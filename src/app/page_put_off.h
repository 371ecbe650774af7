#pragma once
#include "app/desk.h"

namespace isochore::app {

/// A step that is not done now: put off, or it does not apply at this plant.
class NotNowPage final : public Page {
public:
    explicit NotNowPage(std::string step) : m_step(std::move(step)) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    void put_off(Desk& desk);
    void set_aside(Desk& desk);

    std::string m_step;
};

/// Until when a step is put off: the later step it must be closed before, or after the outage.
class PutOffPage final : public Page {
public:
    PutOffPage(std::string step, std::string reason, std::string owner)
        : m_step(std::move(step)), m_reason(std::move(reason)), m_owner(std::move(owner))
    {
    }
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    void put_off(Desk& desk, std::string const& before);

    std::string m_step, m_reason, m_owner, m_search;
};

} // namespace isochore::app
