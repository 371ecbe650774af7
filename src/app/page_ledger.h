#pragma once
#include "app/desk.h"
#include "session/gas_files.h"

/// The sheets of the gas ledger: balances, the year, all entries; an entry typed at a desk; the GWP.
namespace isochore::app {

class LedgerPage final : public Page {
public:
    enum class Show { places, year, entries };
    explicit LedgerPage(Show show = Show::places) : m_show(show) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    void tick(Desk& desk) override;
    [[nodiscard]] std::optional<double> wake_in_s() const override
    {
        return m_looking ? std::optional(0.02) : std::nullopt;
    }

private:
    void look(Desk& desk);
    void load(Desk& desk);
    [[nodiscard]] screens::ProgressView looking(Desk& desk) const;
    void show_places(Desk& desk, screens::TableView& table) const;
    void show_year(Desk& desk, screens::TableView& table) const;
    void show_entries(Desk& desk, screens::TableView& table) const;
    void act_row(Desk& desk, std::string const& id);
    void act_filter(Desk& desk, std::string const& id);
    void withdraw(Desk& desk, std::int64_t entry);
    void write_files(Desk& desk);
    void close_year(Desk& desk);

    Show m_show;
    int m_year = 0;
    std::optional<Result<session::GasBook>> m_book;
    std::optional<session::LookIntoOutages> m_looking; ///< outages went on since the ledger was last open
    std::vector<std::string> m_problems;
};

/// An entry typed at a desk: its kind first, then who, when, how much.
class LedgerEntryPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    void type_field(Desk& desk, std::string const& id);
    void add(Desk& desk);

    session::DeskMovement m_typed;
    std::string m_who, m_problem;
};

/// The source of the GWP.
class GwpPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
};

} // namespace isochore::app
