#include "app/page_stick.h"
#include "app/pages.h"
#include <chrono>

namespace isochore::app {

using screens::Intent;
using screens::Mark;
using Origin = session::ListedUnit::Origin;

namespace {

std::string origin_word(session::ListedUnit const& unit, Words const& words)
{
    switch (unit.origin) {
    case Origin::outage:
        return words("outage {}", {unit.values.job});
    case Origin::desk:
        return words("prepared here");
    case Origin::stick:
        return words("on the stick");
    }
    return {};
}

} // namespace

void look_for_a_moment(session::UnitListing& listing)
{
    using Clock = std::chrono::steady_clock;
    constexpr std::chrono::milliseconds moment{12};
    auto const begun = Clock::now();
    while (listing.step() && Clock::now() - begun < moment) {
    }
}

screens::ProgressView listing_progress(Desk& desk, session::UnitListing const& listing)
{
    return progress_view(
        desk, desk.words("Looking at the units"),
        {media::WriteProgress::Phase::reading, listing.done(), listing.total(), listing.at()});
}

void UnitsPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_stick(desk, sheet);
    if (!m_units) {
        if (!m_listing)
            begin(desk);
        sheet.progress = listing_progress(desk, *m_listing);
        sheet.busy = true;
        return;
    }
    screens::TableView table;
    table.heading = desk.words("Units");
    table.text = m_stick ? desk.words("Tap one to look at its values and to put it on the stick.")
                         : desk.words("Tap one to look at its values or to change them.");
    table.columns = {{desk.words("Unit serial"), 1.2}, {desk.words("Bay"), 1.3},
                     {desk.words("Breaker"), 1.2},     {desk.words("Ratio"), 0.9},
                     {desk.words("Sensor"), 1},        {desk.words("Timing"), 1.5},
                     {desk.words("From"), 1.4}};
    if (!*m_units) {
        table.notice = screens::VerdictView{
            Mark::fail, desk.words("The units cannot be read"), desk.fault(m_units->error()), {}};
    } else {
        int faulty = 0;
        for (auto const& unit : **m_units) {
            auto const& v = unit.values;
            bool const on = m_stick && m_stick->chosen.contains(unit.id);
            faulty += !unit.ready();
            table.rows.push_back(
                {unit.id,
                 {v.text("unit.serial").empty() ? desk.words("no serial") : v.text("unit.serial"),
                  v.text("station.name") + " " + v.text("station.bay"),
                  v.profile_id + " " + v.text("breaker.serial"), v.text("ct.ratio"), v.text("sensor.serial"),
                  desk.words.sentence(v.text("timing.wiring")),
                  origin_word(unit, desk.words) +
                      (on ? "\n" + desk.words("goes on the stick") : std::string())},
                 !unit.ready() ? Mark::undecided
                 : on          ? Mark::pass
                               : Mark::open,
                 true});
        }
        if (faulty)
            table.notice = screens::VerdictView{
                Mark::undecided,
                desk.words("{} not ready for a stick", {std::to_string(faulty)}),
                desk.words("A value is missing or contradicts its profile. Tap the unit to see which."),
                {}};
    }
    table.empty = desk.words("No unit is known yet.");
    table.actions = {{"back", desk.words("Back"), {}, false, true, false},
                     {"new", desk.words("New unit"), {}, !m_stick, true, false}};
    if (m_stick)
        table.actions.push_back({"done", desk.words("Done"), {}, true, true, false});
    sheet.table = std::move(table);
}

void UnitsPage::begin(Desk& desk)
{
    m_listing.emplace(desk.workspace, desk.outage.get(),
                      m_stick && m_stick->content ? &*m_stick->content : nullptr);
}

/// As much as fits between two frames; one outage is read whole, however long it is.
void UnitsPage::tick(Desk& desk)
{
    if (m_units)
        return;
    if (!m_listing)
        begin(desk);
    look_for_a_moment(*m_listing);
    if (m_listing->finished()) {
        m_units = m_listing->take();
        m_listing.reset();
    }
}

void UnitsPage::act(Desk& desk, Intent const& intent)
{
    if (!m_units) { // still looking: leaving is all that can be done
        if (intent.kind == Intent::Kind::action)
            leave(desk);
        return;
    }
    if (intent.kind == Intent::Kind::stage) {
        desk.go(std::make_unique<JumpPage>(intent.id));
    } else if (intent.kind == Intent::Kind::row && m_units && *m_units) {
        for (auto const& unit : **m_units)
            if (unit.id == intent.id)
                desk.go(std::make_unique<UnitPage>(m_stick, unit));
    } else if (intent.kind == Intent::Kind::action && intent.id == "new") {
        desk.go(std::make_unique<UnitPage>(m_stick, std::nullopt));
    } else if (intent.kind == Intent::Kind::action) {
        leave(desk);
    }
}

void UnitsPage::leave(Desk& desk)
{
    if (m_stick)
        desk.go(std::make_unique<StickTargetPage>(m_stick));
    else
        desk.go(std::make_unique<StickPage>());
}

} // namespace isochore::app
