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
        sheet.table = m_report->view(desk);
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
    if (m_report && m_report->act(intent))
        return;
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
            m_report = std::make_unique<TransferReport>(*import, table);
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
            m_report = std::make_unique<TransferReport>(*lines, folder, false);
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
                m_report = std::make_unique<TransferReport>(*lines, folder, true);
            else
                at.report(lines.error());
        };
    });
}

} // namespace isochore::app
