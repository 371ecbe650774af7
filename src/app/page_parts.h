#pragma once
#include "app/desk.h"

namespace isochore::app {

/// The parts that calculations and kit lists know: the built-in ones and those added on this tablet.
class PartsPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    bool m_own_only = false;
    std::string m_search;
};

/// A part to add: a fitting, wire or a spare. Every field says by itself what is wrong with it.
class NewPartPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    [[nodiscard]] Json part() const;
    void type(Desk& desk, std::string const& field);
    void add(Desk& desk);
    std::string m_group = "fitting";
    std::map<std::string, std::string, std::less<>> m_typed{{"confidence", "unconfirmed"}};
    bool m_tried = false; ///< faults of empty fields are shown once the person wanted to add it
};

} // namespace isochore::app
