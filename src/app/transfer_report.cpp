#include "app/transfer_report.h"
#include "app/page_profile.h"
#include "quantity/error_words.h"
#include "session/profile_draft.h"
#include <algorithm>
#include <memory>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

/// More than a person scrolls through, few enough to be set in type within one frame.
constexpr std::size_t part = 200;

/// As elements of the sheet are named.
constexpr std::string_view kind_names[] = {"all", "refused", "open", "taken", "known"};

std::string all_of(Desk& desk, std::vector<Error> const& errors)
{
    std::string text;
    for (auto const& e : errors)
        text += (text.empty() ? "" : "\n") +
                (names_its_place(e) ? std::string() : session::fault_path(e) + ": ") +
                desk.words.sentence(e.detail);
    return text;
}

/// What a draft still lacks: what was not given in one line, what breaks a rule each by itself.
std::string open_of(Desk& desk, std::vector<Error> const& open)
{
    constexpr std::string_view not_given = ": no value is given";
    constexpr std::size_t most_named = 8; // the draft itself names all of them
    std::string lacking;
    std::size_t count = 0;
    std::vector<Error> rest;
    for (auto const& e : open)
        if (!e.detail.ends_with(not_given))
            rest.push_back(e);
        else if (++count <= most_named)
            lacking += (lacking.empty() ? "" : ", ") +
                       desk.words.sentence(e.detail.substr(0, e.detail.size() - not_given.size()));
    std::string text = all_of(desk, rest);
    if (count > 0)
        text += (text.empty() ? "" : "\n") + (count > most_named
                                                  ? desk.words("Not given yet: {}, and {} more",
                                                               {lacking, std::to_string(count - most_named)})
                                                  : desk.words("Not given yet: {}", {lacking}));
    return text;
}

} // namespace

TransferReport::TransferReport(files::NameplateImport import, std::string name)
    : m_name(std::move(name)), m_rows(true), m_errors(import.errors)
{
    for (auto const& row : import.rows)
        add(!row.taken ? Kind::refused : row.open.empty() ? Kind::taken : Kind::open);
    m_show = [rows = std::make_shared<files::NameplateImport const>(std::move(import))](
                 Desk& desk, std::size_t at, Kind kind) {
        auto const& row = rows->rows[at];
        std::string const what = kind == Kind::refused ? desk.words("refused")
                                 : kind == Kind::taken ? desk.words("taken as a draft")
                                                       : desk.words("taken as a draft, open: {}",
                                                                    {std::to_string(row.open.size())});
        return screens::TableRow{"line." + std::to_string(row.line),
                                 {std::to_string(row.line), row.id, what,
                                  row.taken ? open_of(desk, row.open) : all_of(desk, row.refused)},
                                 kind == Kind::refused ? Mark::fail
                                 : kind == Kind::taken ? Mark::pass
                                                       : Mark::undecided};
    };
}

TransferReport::TransferReport(std::vector<files::ImportLine> lines, std::string name, bool out)
    : m_name(std::move(name)), m_rows(false), m_out(out)
{
    for (auto const& line : lines)
        add(line.taken ? Kind::taken : line.why == files::import_known ? Kind::known : Kind::refused);
    m_show = [this, files = std::make_shared<std::vector<files::ImportLine> const>(std::move(lines))](
                 Desk& desk, std::size_t at, Kind kind) {
        auto const& line = (*files)[at];
        return screens::TableRow{"file." + line.file,
                                 {line.file, line.id.empty() ? std::string() : row_id(line.id, line.revision),
                                  word(desk, kind),
                                  kind == Kind::known ? std::string() : desk.words.sentence(line.why)},
                                 kind == Kind::taken   ? Mark::pass
                                 : kind == Kind::known ? Mark::none
                                                       : Mark::fail};
    };
}

void TransferReport::add(Kind kind)
{
    for (Kind const list : {Kind::all, kind})
        m_of[static_cast<std::size_t>(list)].push_back(m_kind.size());
    m_kind.push_back(kind);
}

std::vector<std::size_t> const& TransferReport::shown() const
{
    return m_of[static_cast<std::size_t>(m_only)];
}

std::string TransferReport::word(Desk& desk, Kind kind) const
{
    switch (kind) {
    case Kind::all:
        return desk.words("all");
    case Kind::refused:
        return desk.words("refused");
    case Kind::open:
        return desk.words("open ones");
    case Kind::taken:
        return m_out ? desk.words("written") : desk.words("taken");
    case Kind::known:
        return desk.words("there already");
    }
    return {};
}

/// The heading names the part, so that each part begins at its top.
std::string TransferReport::heading(Desk& desk) const
{
    std::size_t const count = shown().size();
    if (count <= part)
        return m_rows ? desk.words("What became of every row") : desk.words("What became of every file");
    std::initializer_list<std::string> const which = {
        std::to_string(m_first + 1), std::to_string(std::min(count, m_first + part)), std::to_string(count)};
    return m_rows ? desk.words("Rows {} to {} of {}", which) : desk.words("Files {} to {} of {}", which);
}

screens::VerdictView TransferReport::outcome(Desk& desk) const
{
    auto const count = [&](Kind kind) { return m_of[static_cast<std::size_t>(kind)].size(); };
    std::size_t const refused = count(Kind::refused);
    std::initializer_list<std::string> const counts = {std::to_string(count(Kind::taken) + count(Kind::open)),
                                                       std::to_string(count(Kind::known)),
                                                       std::to_string(refused)};
    return {refused || !m_errors.empty() ? Mark::fail : Mark::pass,
            m_out ? desk.words("{} written, {} there already, {} refused", counts)
                  : desk.words("{} taken, {} there already, {} refused", counts),
            all_of(desk, m_errors),
            {}};
}

screens::TableView TransferReport::view(Desk& desk) const
{
    screens::TableView t;
    t.heading = heading(desk);
    t.text = m_name;
    t.notice = outcome(desk);
    if (m_rows)
        t.columns = {{desk.words("Line"), 0.6, true},
                     {desk.words("Profile"), 1.0, false},
                     {desk.words("What became of it"), 1.1, false},
                     {desk.words("Why, or what is open"), 3.0, false}};
    else
        t.columns = {{desk.words("File"), 1.4, false},
                     {desk.words("Profile"), 1.0, false},
                     {desk.words("What became of it"), 1.25, false},
                     {desk.words("Why"), 2.2, false}};
    t.empty = m_rows ? std::string() : desk.words("There is no profile in it.");
    // Few are seen at a glance; boxes above them would only take their room.
    constexpr std::size_t few = 12;
    if (m_kind.size() > few)
        for (std::size_t k = 0; k < kinds; ++k)
            if (!m_of[k].empty())
                t.filters.push_back({std::string(kind_names[k]), word(desk, static_cast<Kind>(k)),
                                     std::to_string(m_of[k].size()), static_cast<Kind>(k) == m_only});
    auto const& rows = shown();
    for (std::size_t i = m_first; i < std::min(rows.size(), m_first + part); ++i)
        t.rows.push_back(m_show(desk, rows[i], m_kind[rows[i]]));
    t.actions = {{"back", desk.words("Back"), {}, false, true, false}};
    if (rows.size() > part) {
        t.actions.push_back({"earlier", desk.words("Earlier rows"), {}, false, m_first > 0, false});
        t.actions.push_back(
            {"further", desk.words("Further rows"), {}, false, m_first + part < rows.size(), false});
    }
    t.actions.push_back({"done", desk.words("To the profiles"), {}, true, true, false});
    return t;
}

bool TransferReport::act(Intent const& intent)
{
    if (intent.kind == Intent::Kind::filter) {
        for (std::size_t k = 0; k < kinds; ++k)
            if (kind_names[k] == intent.id)
                m_only = static_cast<Kind>(k);
        m_first = 0;
        return true;
    }
    if (intent.kind != Intent::Kind::action)
        return false;
    if (intent.id == "earlier")
        m_first -= std::min(m_first, part);
    else if (intent.id == "further")
        m_first += m_first + part < shown().size() ? part : 0;
    else
        return false;
    return true;
}

} // namespace isochore::app
