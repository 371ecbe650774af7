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

/// A part added here with all its revisions: from here it is changed, withdrawn, or taken into the outage.
class PartPage final : public Page {
public:
    explicit PartPage(std::string id) : m_id(std::move(id)) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    void withdraw(Desk& desk);
    std::string m_id;
};

/// A part to add or, with a part given, to change: a fitting, wire or a spare. Every field says by itself
/// what is wrong with it.
class PartFormPage final : public Page {
public:
    explicit PartFormPage(Json const& part = {});
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    [[nodiscard]] std::vector<std::string> fields() const;
    [[nodiscard]] Json part() const;
    void type(Desk& desk, std::string const& field);
    void keep(Desk& desk);
    void leave(Desk& desk);
    std::string m_id; ///< of the part to change; empty: a new one
    std::string m_kind = "adapter";
    std::string m_group = "fitting";
    std::map<std::string, std::string, std::less<>> m_typed{{"confidence", "unconfirmed"}};
    bool m_tried = false; ///< faults of empty fields are shown once the person wanted to add it
};

/// A field of a part, or its ends, as the sheet calls it.
[[nodiscard]] std::string part_label(Words const& words, std::string_view field);
/// The store's parts anew for the outage in hand.
void refresh_parts(Desk& desk);

} // namespace isochore::app
