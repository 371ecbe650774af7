#include "session/gas_ledger.h"
#include "quantity/amount.h"
#include "session/gas_balance.h"
#include "json/member.h"
#include <algorithm>
#include <fmt/format.h>
#include <utility>
#include <limits>
#include <tuple>

namespace isochore::session {
namespace {

using Code = Error::Code;

constexpr std::string_view ledger_job = "@ledger";
constexpr std::size_t longest_name = 60, longest_note = 400;
/// More than any cylinder, cart or breaker holds; a larger figure is a slip of the hand.
constexpr double most_kg = 20000.0;

/// What one gas account of an outage comes to.
struct Booking {
    std::string outage, step, day, cylinder, breaker, who;
    std::int64_t entry = 0;
    bool reopened = false, taken_back = false;
    Json results;

    [[nodiscard]] Json body() const
    {
        return {{"type", "booked"},     {"outage", outage},         {"step", step},       {"entry", entry},
                {"day", day},           {"cylinder", cylinder},     {"breaker", breaker}, {"by", who},
                {"reopened", reopened}, {"taken_back", taken_back}, {"results", results}};
    }
};

/// Two bookings say the same when all but the moment of booking is equal. Members are looked up by name: the
/// store has them in an order of its own.
bool same_booking(Json const& kept, Json const& fresh)
{
    for (auto const& [name, value] : fresh.items()) {
        Json const before = member(kept, name.c_str());
        if (value.is_object() ? !before.is_object() || !same_booking(before, value) : before != value)
            return false;
    }
    return true;
}

std::string fact(model::JobState const& state, char const* name)
{
    auto const it = state.facts.find(name);
    return it == state.facts.end() ? std::string() : it->second;
}

/// The masses of an account, as {value, u}; those it does not have are left out.
Json masses(Json const& result)
{
    Json const results = member(result, "results");
    Json kept = Json::object();
    for (char const* name : {"mass_from_cylinder", "mass_into_breaker", "mass_in_hoses", "handling_loss",
                             "leakage_since_last_fill"}) {
        Json const figure = member(results, name);
        if (figure.is_object())
            kept[name] = {{"kg", number_member(figure, "value")}, {"u", number_member(figure, "u")}};
    }
    return kept;
}

std::vector<Booking> bookings_of(Outage const& outage)
{
    std::vector<Booking> found;
    auto const& state = outage.state();
    for (auto const& stage : outage.checklists().stages)
        for (auto const& step : stage.steps) {
            if (!step.call || step.call->calc != "fill.account")
                continue;
            auto const& record = state.record(step.id);
            Booking b;
            b.outage = outage.job();
            b.step = step.id;
            b.entry = record.entry;
            b.who = record.who;
            b.results = masses(record.result);
            b.reopened = record.status == model::StepStatus::reopened;
            b.taken_back = b.results.empty() || record.status == model::StepStatus::not_applicable;
            b.day = calendar_day(record.at.empty() ? state.created_at : record.at);
            b.cylinder = text_member(record.inputs, "cylinder");
            if (b.cylinder.empty())
                b.cylinder = "cylinder of job " + fact(state, "job_no");
            b.breaker =
                fmt::format("{} ({} {})", fact(state, "serial"), fact(state, "station"), fact(state, "bay"));
            found.push_back(std::move(b));
        }
    return found;
}

/// Whether a gas account was ever computed in an outage. Replaying one costs a hundred times as much as
/// looking for the words, and most have none.
Result<bool> has_account(journal::Journal& journal, std::string_view outage)
{
    auto const entries = journal.entries(outage);
    if (!entries)
        return tl::unexpected(entries.error());
    return std::any_of(entries->begin(), entries->end(), [](auto const& entry) {
        return entry.body.find("\"fill.account\"") != std::string::npos;
    });
}

/// The movements a booking stands for. What left the cylinder is in the breaker, in the hoses or in the air;
/// a negative rest is no gas, but two instruments that disagree.
void unfold(Json const& body, std::int64_t n, std::vector<GasMovement>& into)
{
    if (body.value("taken_back", false))
        return;
    Json const results = member(body, "results");
    GasMovement common;
    common.day = text_member(body, "day");
    common.at = text_member(body, "at");
    common.who = text_member(body, "by");
    common.entry = n;
    common.outage = text_member(body, "outage");
    common.outage_entry = static_cast<std::int64_t>(number_member(body, "entry"));
    common.step = text_member(body, "step");
    common.reopened = body.value("reopened", false);
    std::string const cylinder = text_member(body, "cylinder"), breaker = text_member(body, "breaker");
    auto const move = [&](char const* kind, std::string const& from, std::string const& to, double kg,
                          double u) {
        GasMovement m = common;
        m.kind = kind, m.from = from, m.to = to, m.mass_kg = kg;
        if (u > 0.0)
            m.u_kg = u;
        into.push_back(std::move(m));
    };
    auto const figure = [&](char const* name) {
        Json const f = member(results, name);
        return std::pair{number_member(f, "kg"), number_member(f, "u")};
    };
    auto const [taken, u_taken] = figure("mass_from_cylinder");
    auto const [hoses, u_hoses] = figure("mass_in_hoses");
    auto const [loss, u_loss] = figure("handling_loss");
    auto const [leaked, u_leaked] = figure("leakage_since_last_fill");
    // The scale is what the cylinder's books go by: a negative loss is taken off what the breaker got.
    auto const [gained, u_gained] = figure("mass_into_breaker");
    double const into_breaker = loss < 0.0 ? taken - hoses : gained;
    if (into_breaker > 0.0)
        move("fill", cylinder, breaker, into_breaker, loss < 0.0 ? u_taken : u_gained);
    if (hoses > 0.0)
        move("hoses", cylinder, "hoses", hoses, u_hoses);
    if (loss > 0.0)
        move("handling", cylinder, "air", loss, u_loss);
    else if (loss < 0.0)
        move("difference", cylinder, breaker, -loss, u_loss);
    if (leaked > 0.0)
        move("leaked", breaker, "air", leaked, u_leaked);
}

GasMovement typed_movement(Json const& body, std::int64_t n)
{
    GasMovement m;
    m.kind = text_member(body, "kind");
    m.day = text_member(body, "day");
    m.from = text_member(body, "from");
    m.to = text_member(body, "to");
    m.mass_kg = number_member(body, "kg");
    m.typed = text_member(body, "typed");
    m.note = text_member(body, "note");
    m.at = text_member(body, "at");
    m.who = text_member(body, "who");
    m.entry = n;
    return m;
}

std::string trimmed(std::string text)
{
    auto const first = text.find_first_not_of(' ');
    if (first == std::string::npos)
        return {};
    return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

/// Within a day gas comes in before it goes out: a cylinder bought in the morning may be typed in after the
/// fill.
bool by_day(GasMovement const& a, GasMovement const& b)
{
    auto const late = [](GasMovement const& m) {
        MovementKind const* kind = movement_kind(m.kind);
        return !kind || kind->from != PlaceKind::outside;
    };
    return std::tuple(std::string_view(a.day), late(a), a.entry) <
           std::tuple(std::string_view(b.day), late(b), b.entry);
}

/// A container of the book that holds less than nothing, in words; empty when there is none.
std::string overdrawn(GasBook const& book, std::string const& only)
{
    for (auto const& place : balances(book))
        if (!place.problem.empty() && place.place == only)
            return fmt::format("\"{}\": {}", place.place, place.problem);
    return {};
}

std::optional<int> year_closed_for(GasBook const& book, std::string const& day)
{
    int const year = std::stoi(day.substr(0, 4));
    for (auto const& [closed, kg] : book.closed_years)
        if (year <= closed)
            return closed;
    return std::nullopt;
}

Error closed_error(int year)
{
    return {Code::denied, "day",
            fmt::format("the year {} is closed: enter what was missed in the year that runs, and say why in "
                        "the note",
                        year)};
}

Result<GasMovement> read_desk(DeskMovement const& typed, std::string const& today)
{
    MovementKind const* kind = movement_kind(typed.kind);
    if (!kind || !kind->desk)
        return fail(Code::unknown, "kind", fmt::format("\"{}\" is no kind of entry at a desk", typed.kind));
    GasMovement m;
    m.kind = typed.kind;
    m.day = trimmed(typed.day);
    if (!is_day(m.day))
        return fail(Code::invalid_input, "day",
                    fmt::format("\"{}\" is no day: write year, month and day as 2026-11-25", typed.day));
    if (m.day > today)
        return fail(Code::invalid_input, "day", fmt::format("{} has not come yet", m.day));
    struct End {
        std::string_view label;
        PlaceKind place;
        std::string const& typed;
        std::string& into;
        char const* where;
    };
    for (auto const& end : {End{kind->from_label, kind->from, typed.from, m.from, "from"},
                            End{kind->to_label, kind->to, typed.to, m.to, "to"}}) {
        end.into = trimmed(end.typed);
        if (end.place == PlaceKind::air)
            end.into = "air";
        if (end.into.size() > longest_name)
            return fail(Code::invalid_input, end.where, "a name has at most 60 characters");
        if (end.into.empty() && !end.label.empty())
            return fail(Code::missing_input, end.where,
                        fmt::format("name the {}: the ledger books by name", std::string(end.label)));
    }
    if (m.from == m.to)
        return fail(Code::invalid_input, "to", "the gas would not move: both names are the same");
    auto const mass = parse_amount(typed.mass, Dimension::mass, "mass");
    if (!mass)
        return tl::unexpected(mass.error());
    if (mass->si < 0.0 || (mass->si == 0.0 && m.kind != "counted"))
        return fail(Code::out_of_range, "mass",
                    fmt::format("{} is not above zero: choose the kind of entry that goes the other way", mass->typed));
    if (mass->si > most_kg)
        return fail(Code::out_of_range, "mass",
                    fmt::format("{} is more than any container or breaker holds: check the unit", mass->typed));
    m.mass_kg = mass->si;
    m.typed = typed.mass;
    m.note = trimmed(typed.note);
    if (m.note.size() > longest_note)
        return fail(Code::invalid_input, "note", "a note has at most 400 characters");
    return m;
}

/// Marks an entry of the desk as withdrawn in a copy of the book, and says which it was.
Result<GasMovement> withdrawn_from(GasBook& book, std::int64_t entry, std::string_view reason)
{
    if (trimmed(std::string(reason)).empty())
        return fail(Code::missing_input, "reason", "say why the entry is withdrawn: it stays to be seen");
    auto const target = std::find_if(book.movements.begin(), book.movements.end(),
                                     [&](auto const& m) { return m.entry == entry; });
    if (target == book.movements.end())
        return fail(Code::not_found, "entry", fmt::format("the ledger has no entry {}", entry));
    if (!target->outage.empty())
        return fail(Code::denied, "entry",
                    fmt::format("this was booked by outage {}: correct it there, and the ledger follows",
                                target->outage));
    if (!target->withdrawn.empty())
        return fail(Code::denied, "entry",
                    fmt::format("this entry was withdrawn already: \"{}\"", target->withdrawn));
    if (auto const closed = year_closed_for(book, target->day))
        return tl::unexpected(closed_error(*closed));
    target->withdrawn = reason;
    return *target;
}

} // namespace

Result<void> GasLedger::append(Json body, std::string_view who)
{
    body["at"] = stamp(m_workspace.clock().now());
    body["who"] = who;
    auto entry = m_workspace.journal().append(ledger_job, std::move(body));
    if (!entry)
        return tl::unexpected(entry.error());
    return {};
}

Result<int> GasLedger::take_over(std::vector<std::string>& problems)
{
    LookIntoOutages at;
    if (auto done = take_over(at, std::chrono::hours(24)); !done)
        return tl::unexpected(done.error());
    problems.insert(problems.end(), at.problems.begin(), at.problems.end());
    return at.added;
}

Result<void> GasLedger::take_over(LookIntoOutages& at, std::chrono::milliseconds time)
{
    auto const until = std::chrono::steady_clock::now() + time;
    auto const kept = m_workspace.journal().entries(ledger_job);
    if (!kept)
        return tl::unexpected(kept.error());
    std::map<std::pair<std::string, std::string>, Json> newest;
    std::map<std::string, std::int64_t> looked_at; // outages with a booking, by the entry it was made at
    for (auto const& entry : *kept) {
        Json body = entry.json();
        std::string const type = text_member(body, "type"), outage = text_member(body, "outage");
        if (type == "booked" || type == "looked")
            looked_at[outage] = static_cast<std::int64_t>(number_member(body, "looked_at", -1.0));
        if (type == "booked")
            newest.insert_or_assign({outage, text_member(body, "step")}, std::move(body));
    }
    auto const heads = m_workspace.journal().jobs();
    if (!heads)
        return tl::unexpected(heads.error());
    at.total = heads->size();
    bool first = true;
    for (auto const& head : *heads) {
        if (at.seen.contains(head.job))
            continue;
        if (!std::exchange(first, false) && std::chrono::steady_clock::now() >= until)
            return {};
        at.seen.insert(head.job);
        auto const looked = looked_at.find(head.job);
        if (looked != looked_at.end() && looked->second == head.last.n)
            continue;
        if (looked == looked_at.end()) {
            auto const has = has_account(m_workspace.journal(), head.job);
            if (!has)
                return tl::unexpected(has.error());
            if (!*has)
                continue;
        }
        auto const outage = m_workspace.resume(head.job, {});
        if (!outage) {
            at.problems.push_back(head.job + ": " + outage.error().detail);
            continue;
        }
        int const so_far = at.added;
        for (auto const& booking : bookings_of(**outage)) {
            auto const before = newest.find({booking.outage, booking.step});
            bool const known = before != newest.end();
            Json body = booking.body();
            if (known ? same_booking(before->second, body) : booking.taken_back)
                continue;
            body["looked_at"] = head.last.n;
            if (auto done = append(std::move(body), booking.who); !done)
                return tl::unexpected(done.error());
            ++at.added;
        }
        // So that a ledger over a thousand outages replays only those that went on since.
        if (at.added == so_far && looked != looked_at.end())
            if (auto done =
                    append({{"type", "looked"}, {"outage", head.job}, {"looked_at", head.last.n}}, "");
                !done)
                return tl::unexpected(done.error());
    }
    at.finished = true;
    return {};
}

Result<GasBook> GasLedger::book()
{
    auto const entries = m_workspace.journal().entries(ledger_job);
    if (!entries)
        return tl::unexpected(entries.error());
    auto gwp = gwp_in_use(m_workspace.journal());
    if (!gwp)
        return tl::unexpected(gwp.error());
    GasBook book;
    book.gwp = std::move(*gwp);
    book.entries = static_cast<std::int64_t>(entries->size());
    std::map<std::pair<std::string, std::string>, std::int64_t> newest;
    std::vector<Json> bodies;
    for (auto const& entry : *entries) {
        Json body = entry.json();
        if (text_member(body, "type") == "booked")
            newest[{text_member(body, "outage"), text_member(body, "step")}] = entry.n;
        bodies.push_back(std::move(body));
    }
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        Json const& body = bodies[i];
        std::int64_t const n = (*entries)[i].n;
        std::string const type = text_member(body, "type");
        if (type == "booked") {
            std::size_t const first = book.movements.size();
            unfold(body, n, book.movements);
            std::int64_t const current = newest.at({text_member(body, "outage"), text_member(body, "step")});
            for (std::size_t k = first; k < book.movements.size() && current != n; ++k)
                book.movements[k].superseded_by = std::to_string(current);
        } else if (type == "typed" || type == "withdrawn") {
            auto const target = static_cast<std::int64_t>(number_member(body, "withdraws", -1.0));
            for (auto& m : book.movements)
                if (m.entry == target && m.outage.empty())
                    m.withdrawn = text_member(body, "reason");
            if (type == "typed")
                book.movements.push_back(typed_movement(body, n));
        } else if (type == "looked") {
            --book.entries; // says nothing of gas
        } else if (type == "gwp_chosen") {
            book.gwp_chosen = true;
        } else if (type == "year_closed") {
            book.closed_years[static_cast<int>(number_member(body, "year"))] =
                number_member(body, "stored_kg");
        }
    }
    std::stable_sort(book.movements.begin(), book.movements.end(), by_day);
    return book;
}

Result<void> GasLedger::change(DeskMovement const* typed, std::optional<std::int64_t> target,
                               std::string_view reason, std::string_view who)
{
    Json body{{"type", typed ? "typed" : "withdrawn"}};
    auto const before = book();
    if (!before)
        return tl::unexpected(before.error());
    GasBook after = *before;
    std::vector<std::string> touched; // containers that may hold less afterwards
    if (target) {
        auto const gone = withdrawn_from(after, *target, reason);
        if (!gone)
            return tl::unexpected(gone.error());
        touched.push_back(gone->to);
        body["withdraws"] = *target;
        body["reason"] = trimmed(std::string(reason));
    }
    if (typed) {
        auto movement = read_desk(*typed, calendar_day(stamp(m_workspace.clock().now())));
        if (!movement)
            return tl::unexpected(movement.error());
        if (auto const closed = year_closed_for(*before, movement->day))
            return tl::unexpected(closed_error(*closed));
        if (movement_kind(movement->kind)->from == PlaceKind::container)
            touched.push_back(movement->from);
        body.update({{"kind", movement->kind},
                     {"day", movement->day},
                     {"from", movement->from},
                     {"to", movement->to},
                     {"kg", movement->mass_kg},
                     {"typed", movement->typed},
                     {"note", movement->note}});
        movement->entry = std::numeric_limits<std::int64_t>::max();
        after.movements.push_back(std::move(*movement));
        std::stable_sort(after.movements.begin(), after.movements.end(), by_day);
    }
    if (trimmed(std::string(who)).empty())
        return fail(Code::missing_input, "who", "say who makes the entry");
    for (auto const& place : touched)
        if (!place.empty() && overdrawn(*before, place).empty())
            if (std::string const text = overdrawn(after, place); !text.empty())
                return target ? fail(Code::denied, "entry", "Other entries live on this gas. " + text)
                              : fail(Code::out_of_range, "mass", text);
    return append(std::move(body), who);
}

Result<void> GasLedger::add(DeskMovement const& typed, std::string_view who)
{
    return change(&typed, std::nullopt, {}, who);
}

Result<void> GasLedger::withdraw(std::int64_t entry, std::string_view reason, std::string_view who)
{
    return change(nullptr, entry, reason, who);
}

Result<void> GasLedger::correct(std::int64_t entry, DeskMovement const& typed, std::string_view reason,
                                std::string_view who)
{
    return change(&typed, entry, reason, who);
}

Result<void> GasLedger::choose_gwp(std::string_view id, std::string_view who)
{
    auto const source = calc::gwp_source(id);
    if (!source)
        return tl::unexpected(source.error());
    return append({{"type", "gwp_chosen"},
                   {"id", source->id},
                   {"name", source->name},
                   {"value", source->value},
                   {"source", source->source},
                   {"confirmed", source->confirmed}},
                  who);
}

Result<void> GasLedger::close_year(int year, std::string_view who)
{
    auto const now = book();
    if (!now)
        return tl::unexpected(now.error());
    if (year_closed_for(*now, fmt::format("{:04}-12-31", year)))
        return fail(Code::denied, "year", fmt::format("the year {} is closed already", year));
    std::string const today = calendar_day(stamp(m_workspace.clock().now()));
    if (today <= fmt::format("{:04}-12-31", year))
        return fail(Code::denied, "year", fmt::format("the year {} is not over yet", year));
    YearBalance const balance = balance_of_year(*now, year, today);
    if (!balance.answer)
        return tl::unexpected(balance.answer.error());
    double stored = 0.0;
    for (auto const& [name, kg] : balance.terms)
        if (name == "inventory_end")
            stored = kg;
    calc::Figure const* emitted = balance.answer->find("user_emissions");
    return append({{"type", "year_closed"},
                   {"year", year},
                   {"stored_kg", stored},
                   {"user_emissions_kg", emitted ? emitted->value : 0.0},
                   {"gwp", now->gwp.value},
                   {"gwp_source", now->gwp.name}},
                  who);
}

Result<calc::GwpSource> gwp_in_use(journal::Journal& journal)
{
    auto const entries = journal.entries(ledger_job);
    if (!entries)
        return tl::unexpected(entries.error());
    for (auto entry = entries->rbegin(); entry != entries->rend(); ++entry) {
        Json const body = entry->json();
        if (text_member(body, "type") == "gwp_chosen")
            return calc::GwpSource{text_member(body, "id"), text_member(body, "name"),
                                   number_member(body, "value"), text_member(body, "source"),
                                   member(body, "confirmed") == Json(true)};
    }
    auto const all = calc::gwp_sources();
    if (!all)
        return tl::unexpected(all.error());
    return all->front();
}

} // namespace isochore::session
