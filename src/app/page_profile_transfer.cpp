#include "app/outage_frame.h"
#include "app/page_profile.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include "disk/whole_file.h"
#include "session/profile_transfer.h"

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

std::string all_of(Desk& desk, std::vector<Error> const& errors)
{
    std::string text;
    for (auto const& e : errors)
        text += (text.empty() ? "" : "\n") + session::fault_path(e) + ": " + desk.words.sentence(e.detail);
    return text;
}

/// What a draft still lacks: what was not given in one line, what breaks a rule each by itself.
std::string open_of(Desk& desk, std::vector<Error> const& open)
{
    constexpr std::string_view not_given = ": no value is given";
    std::string lacking;
    std::vector<Error> rest;
    for (auto const& e : open)
        if (e.detail.ends_with(not_given))
            lacking += (lacking.empty() ? "" : ", ") +
                       desk.words.sentence(e.detail.substr(0, e.detail.size() - not_given.size()));
        else
            rest.push_back(e);
    std::string text = all_of(desk, rest);
    if (!lacking.empty())
        text += (text.empty() ? "" : "\n") + desk.words("Not given yet: {}", {lacking});
    return text;
}

screens::VerdictView outcome(Desk& desk, std::size_t taken, std::size_t known, std::size_t refused, bool out)
{
    std::initializer_list<std::string> const counts = {std::to_string(taken), std::to_string(known),
                                                       std::to_string(refused)};
    return {refused ? Mark::fail : Mark::pass,
            out ? desk.words("{} written, {} there already, {} refused", counts)
                : desk.words("{} taken, {} there already, {} refused", counts),
            {},
            {}};
}

screens::TableView report_of(Desk& desk, files::NameplateImport const& import, std::string const& name)
{
    screens::TableView t;
    t.heading = desk.words("What became of every row");
    t.text = name;
    t.columns = {{desk.words("Line"), 0.6, true},
                 {desk.words("Profile"), 1.0, false},
                 {desk.words("What became of it"), 1.1, false},
                 {desk.words("Why, or what is open"), 3.0, false}};
    std::size_t taken = 0;
    for (auto const& row : import.rows) {
        taken += row.taken;
        std::string const what =
            !row.taken         ? desk.words("refused")
            : row.open.empty() ? desk.words("taken as a draft")
                               : desk.words("taken as a draft, open: {}", {std::to_string(row.open.size())});
        t.rows.push_back({"line." + std::to_string(row.line),
                          {std::to_string(row.line), row.id, what,
                           row.taken ? open_of(desk, row.open) : all_of(desk, row.refused)},
                          !row.taken         ? Mark::fail
                          : row.open.empty() ? Mark::pass
                                             : Mark::undecided});
    }
    t.notice = outcome(desk, taken, 0, import.rows.size() - taken, false);
    t.notice->text = all_of(desk, import.errors);
    if (!import.errors.empty())
        t.notice->mark = Mark::fail;
    return t;
}

screens::TableView report_of(Desk& desk, std::vector<files::ImportLine> const& lines, std::string const& name,
                             bool out)
{
    screens::TableView t;
    t.heading = desk.words("What became of every file");
    t.text = name;
    t.columns = {{desk.words("File"), 1.4, false},
                 {desk.words("Profile"), 1.0, false},
                 {desk.words("What became of it"), 1.0, false},
                 {desk.words("Why"), 2.2, false}};
    t.empty = desk.words("There is no profile in it.");
    std::size_t taken = 0, known = 0;
    for (auto const& line : lines) {
        bool const same = !line.taken && line.why == files::import_known;
        taken += line.taken;
        known += same;
        std::string const what = line.taken ? (out ? desk.words("written") : desk.words("taken"))
                                 : same     ? desk.words("there already")
                                            : desk.words("refused");
        t.rows.push_back({"file." + line.file,
                          {line.file, line.id.empty() ? std::string() : row_id(line.id, line.revision), what,
                           same ? std::string() : desk.words.sentence(line.why)},
                          line.taken ? Mark::pass
                          : same     ? Mark::none
                                     : Mark::fail});
    }
    t.notice = outcome(desk, taken, known, lines.size() - taken - known, out);
    return t;
}

using Phase = media::WriteProgress::Phase;

files::Advance advance_of(media::Progress const& progress, Phase phase)
{
    return [&progress, phase](std::size_t done, std::size_t total, std::string_view file) {
        return progress({phase, done, total, std::string(file)});
    };
}

} // namespace

void ProfileTransferPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(sheet);
    if (m_work.running()) {
        sheet.progress = progress_view(
            desk, m_id.empty() ? desk.words("Taking profiles over") : desk.words("Writing profiles"),
            m_work.at());
        return;
    }
    if (m_report) {
        sheet.table = m_report;
        sheet.table->actions = {{"back", desk.words("Back"), {}, false, true, false},
                                {"done", desk.words("To the profiles"), {}, true, true, false}};
        return;
    }
    screens::ListView list;
    if (!m_place.empty()) {
        list.heading = desk.words("Import what?");
        list.text = m_place;
        list.rows.push_back({"all",
                             desk.words("Its profiles"),
                             desk.words("Every readable one; what contradicts the library is refused."),
                             {},
                             Mark::none,
                             true});
        for (auto const& table : m_tables)
            list.rows.push_back({"table." + table,
                                 table,
                                 desk.words("A table of nameplates: one draft a row."),
                                 {},
                                 Mark::none,
                                 true});
        list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
        sheet.list = std::move(list);
        return;
    }
    bool const out = !m_id.empty();
    list.heading = out ? desk.words("Export where to?") : desk.words("Import from where?");
    list.text =
        out ? desk.words("Nothing that is there already is written over.")
            : desk.words("Profiles as they are, or a table of nameplates as drafts. Every row says what "
                         "became of it.");
    if (!m_targets)
        m_targets = session::stick_targets();
    for (auto const& t : *m_targets)
        list.rows.push_back({t.path, t.title, desk.words.sentence(t.detail), desk.words(t.side),
                             t.usable ? Mark::none : Mark::locked, t.usable});
    list.rows.push_back({"folder",
                         out ? desk.words("A folder") : desk.words("A folder or a table"),
                         desk.words("Type its path"),
                         {},
                         Mark::none,
                         true});
    list.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"again", desk.words("Look again"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void ProfileTransferPage::act(Desk& desk, Intent const& intent)
{
    bool const action = intent.kind == Intent::Kind::action;
    if (m_work.running()) {
        if (action && intent.id == "cancel")
            m_work.cancel();
        return;
    }
    if (action && intent.id == "again")
        m_targets.reset();
    else if (action && intent.id == "done")
        desk.go(std::make_unique<LibraryPage>());
    else if (action)
        back(desk);
    else if (intent.kind != Intent::Kind::row)
        return;
    else if (!m_place.empty() && intent.id == "all")
        read_folder(desk, m_place);
    else if (!m_place.empty())
        read_table(desk, (disk::Path(m_place) / intent.id.substr(6)).string());
    else if (intent.id == "folder") {
        EntryRequest r;
        r.label = m_id.empty() ? desk.words("Folder or table to read") : desk.words("Folder to write to");
        r.text = true;
        r.done = [this, &desk](std::string const& path, std::string const&) { from_place(desk, path); };
        desk.entry.open(std::move(r));
    } else
        from_place(desk, intent.id);
}

void ProfileTransferPage::back(Desk& desk)
{
    if (m_report)
        m_report.reset();
    else if (!m_place.empty())
        m_place.clear();
    else if (m_id.empty() || m_id == "*")
        desk.go(std::make_unique<LibraryPage>());
    else
        desk.go(std::make_unique<ProfilePage>(m_id, m_revision));
}

void ProfileTransferPage::from_place(Desk& desk, std::string const& place)
{
    if (!m_id.empty()) {
        write_to(desk, place);
        return;
    }
    if (place.ends_with(".csv") || place.ends_with(".CSV")) {
        read_table(desk, place);
        return;
    }
    m_tables = session::tables_in(desk.workspace, place);
    if (m_tables.empty())
        read_folder(desk, place);
    else
        m_place = place;
}

void ProfileTransferPage::tick(Desk& desk)
{
    if (auto const finish = m_work.take())
        (*finish)(desk);
}

void ProfileTransferPage::read_table(Desk& desk, std::string const& table)
{
    ask_person(desk, desk.words("Who writes these drafts?"), false,
               [this, &desk, table](std::string const& name, bool) { start_table(desk, table, name); });
}

void ProfileTransferPage::start_table(Desk& desk, std::string const& table, std::string const& author)
{
    auto& workspace = desk.workspace;
    auto const made = disk::make_durable_directory(workspace.disk(), workspace.own_profiles());
    if (!made)
        return desk.report(made.error());
    session::TableImport const how{author, true, false};
    auto const day = session::calendar_day(session::stamp(workspace.clock().now()));
    m_work.start([this, table, how, day, &disk = workspace.disk(), &library = workspace.library(),
                  help = workspace.folders().profiles / "schema/nameplate.json",
                  into = workspace.own_profiles()](media::Progress const& progress) -> Finish {
        auto import = session::import_table(disk, table, help, into, library, day, how,
                                            advance_of(progress, Phase::writing));
        auto notes = import ? session::notes_of(*import) : std::vector<session::ProfileNote>();
        return [this, table, how, import = std::move(import), notes = std::move(notes)](Desk& at) {
            if (!import)
                return at.report(import.error());
            m_report = report_of(at, *import, table);
            if (auto const noted = session::note_import(at.workspace, notes, how.author, table); !noted)
                at.report(noted.error());
        };
    });
}

void ProfileTransferPage::read_folder(Desk& desk, std::string const& folder)
{
    auto& workspace = desk.workspace;
    m_work.start([this, folder, &disk = workspace.disk(), &library = workspace.library(),
                  into = workspace.own_profiles()](media::Progress const& progress) -> Finish {
        return [this, folder,
                lines = session::import_folder(disk, folder, into, library,
                                               advance_of(progress, Phase::reading))](Desk& at) {
            if (!lines)
                return at.report(lines.error());
            m_report = report_of(at, *lines, folder, false);
            if (auto const noted = session::note_import(at.workspace, session::notes_of(*lines), {}, folder);
                !noted)
                at.report(noted.error());
        };
    });
}

void ProfileTransferPage::write_to(Desk& desk, std::string const& folder)
{
    std::vector<files::LibraryEntry const*> entries;
    if (m_id == "*")
        entries = files::search(desk.workspace.library(), desk.library_filter);
    else if (auto const* entry = desk.workspace.find_profile(m_id, m_revision))
        entries.push_back(entry);
    m_work.start([this, folder, entries = std::move(entries),
                  &disk = desk.workspace.disk()](media::Progress const& progress) -> Finish {
        return [this, folder,
                lines = session::export_profiles(disk, folder, entries,
                                                 advance_of(progress, Phase::writing))](Desk& at) {
            if (lines)
                m_report = report_of(at, *lines, folder, true);
            else
                at.report(lines.error());
        };
    });
}

} // namespace isochore::app
