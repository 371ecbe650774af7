#include "journal/store.h"
#include "journal/chain.h"
#include "journal/copy.h"
#include "json/read.h"
#include "json/utf8.h"
#include <algorithm>
#include <cerrno>
#include <functional>
#include <optional>
#include <sys/statvfs.h>
#include <unistd.h>
#include <unordered_map>

namespace isochore::journal {
namespace {

using Code = Error::Code;

// Room for some hundreds of entries: below it the crew is told before the disk is quite full.
constexpr std::uint64_t reserve_bytes = 4u << 20;

constexpr std::size_t longest_job_name = 200;

// The job's last entry, so that an append needs no read.
struct Head {
    std::int64_t id = 0;
    std::int64_t n = 0;
    std::string hash{no_hash};
};

// std::string_view look-ups without making a string.
struct TextHash {
    using is_transparent = void;
    std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
};

Result<void> check_job_name(std::string_view job)
{
    if (job.empty() || job.size() > longest_job_name || find_not_utf8(job) != std::string_view::npos)
        return fail(Code::invalid_input, "journal", "a job's name must be 1 to 200 bytes of UTF-8 text");
    return {};
}

class Store final : public Journal {
public:
    Store(disk::Path folder, StoreBase base, Database database, FileLock lock, std::string read_only_because)
        : m_lock(std::move(lock)), m_folder(std::move(folder)), m_base(base), m_database(std::move(database)),
          m_read_only_because(std::move(read_only_because))
    {
    }

    Result<void> prepare()
    {
        struct Row {
            Statement& statement;
            char const* sql;
        };
        Row const rows[] = {
            {m_add_entry, "INSERT INTO entry(seq, job, n, body, hash) VALUES(?1, ?2, ?3, ?4, ?5)"},
            {m_add_job, "INSERT INTO job(id, name) VALUES(?1, ?2)"},
            {m_find_head, "SELECT j.id, e.n, e.hash FROM job j LEFT JOIN entry e ON e.job = j.id "
                          "WHERE j.name = ?1 ORDER BY e.n DESC LIMIT 1"},
            {m_list, "SELECT e.n, e.body, e.hash FROM job j JOIN entry e ON e.job = j.id "
                     "WHERE j.name = ?1 ORDER BY e.n"},
            {m_ends, "SELECT e.n, e.body, e.hash FROM job j JOIN entry e ON e.job = j.id WHERE j.name = ?1 "
                     "AND (e.n = 1 OR e.n = (SELECT n FROM entry WHERE job = j.id ORDER BY n DESC LIMIT 1)) "
                     "ORDER BY e.n"},
            {m_walk, "SELECT e.seq, j.name, e.n, e.body, e.hash FROM entry e JOIN job j ON j.id = e.job "
                     "WHERE e.seq > ?1 ORDER BY e.seq LIMIT ?2"},
            {m_find_kept, "SELECT text FROM kept WHERE hash = ?1"},
            {m_add_kept, "INSERT INTO kept(id, hash, text) "
                         "VALUES((SELECT COALESCE(MAX(id), 0) + 1 FROM kept), ?1, ?2)"},
        };
        for (Row const& row : rows) {
            auto statement = m_database.prepare(row.sql);
            if (!statement)
                return hand_up(statement);
            row.statement = std::move(*statement);
        }
        auto seq = m_database.ask_whole("SELECT COALESCE(MAX(seq), 0) FROM entry");
        auto id = m_database.ask_whole("SELECT COALESCE(MAX(id), 0) FROM job");
        if (!seq || !id)
            return !seq ? hand_up(seq) : hand_up(id);
        m_last_seq = *seq;
        m_last_job = *id;
        return {};
    }

    Result<Entry> append(std::string_view job, Json body) override
    {
        if (auto good = check_job_name(job); !good)
            return hand_up(good);
        if (!m_read_only_because.empty())
            return fail(Code::denied, "journal", "nothing can be written: " + m_read_only_because);
        auto head = head_of(job);
        if (!head)
            return hand_up(head);
        auto entry = make_entry(job, head->n + 1, head->hash, std::move(body));
        if (!entry)
            return entry;
        if (auto written = write(*head, *entry); !written) {
            m_last_fault = written.error().detail;
            return hand_up(written);
        }
        m_last_fault.clear();
        return entry;
    }

    Result<std::vector<Entry>> entries(std::string_view job) override
    {
        Run const run(m_list);
        m_list.bind(1, job);
        std::vector<Entry> out;
        int code = m_list.step();
        for (; code == SQLITE_ROW; code = m_list.step())
            out.push_back({std::string(job), m_list.whole(0), m_list.text(1), m_list.text(2)});
        if (code != SQLITE_DONE)
            return tl::unexpected<Error>(m_database.fault("read"));
        return out;
    }

    Result<std::vector<JobHead>> jobs() override
    {
        // Two seeks a job in the index, two rows: no entry between first and last is touched.
        auto query = m_database.prepare(
            "SELECT j.name, f.body, f.hash, l.n, l.body, l.hash, l.seq FROM job j "
            "JOIN entry f ON f.job = j.id AND f.n = 1 "
            "JOIN entry l ON l.seq = (SELECT seq FROM entry WHERE job = j.id ORDER BY n DESC LIMIT 1) "
            "WHERE j.name NOT GLOB '@*'");
        if (!query)
            return hand_up(query);
        std::vector<std::pair<std::int64_t, JobHead>> found;
        int code = query->step();
        for (; code == SQLITE_ROW; code = query->step()) {
            std::string name = query->text(0);
            JobHead head{name,
                         {name, 1, query->text(1), query->text(2)},
                         {name, query->whole(3), query->text(4), query->text(5)}};
            found.emplace_back(query->whole(6), std::move(head));
        }
        if (code != SQLITE_DONE)
            return tl::unexpected<Error>(m_database.fault("read"));
        std::sort(found.begin(), found.end(), [](auto const& a, auto const& b) { return a.first > b.first; });
        std::vector<JobHead> out;
        out.reserve(found.size());
        for (auto& item : found)
            out.push_back(std::move(item.second));
        return out;
    }

    Result<std::vector<std::string>> job_names() override
    {
        auto query = m_database.prepare(
            "SELECT j.name FROM job j WHERE j.name NOT GLOB '@*' "
            "ORDER BY (SELECT seq FROM entry WHERE job = j.id ORDER BY n DESC LIMIT 1) DESC");
        if (!query)
            return hand_up(query);
        std::vector<std::string> names;
        int code = query->step();
        for (; code == SQLITE_ROW; code = query->step())
            names.push_back(query->text(0));
        if (code != SQLITE_DONE)
            return tl::unexpected<Error>(m_database.fault("read"));
        return names;
    }

    Result<JobHead> head(std::string_view job) override
    {
        Run const run(m_ends);
        m_ends.bind(1, job);
        JobHead found;
        found.job = job;
        int code = m_ends.step();
        if (code == SQLITE_ROW)
            found.first = {found.job, m_ends.whole(0), m_ends.text(1), m_ends.text(2)};
        found.last = found.first;
        if (code == SQLITE_ROW && (code = m_ends.step()) == SQLITE_ROW)
            found.last = {found.job, m_ends.whole(0), m_ends.text(1), m_ends.text(2)};
        if (code != SQLITE_ROW && code != SQLITE_DONE)
            return tl::unexpected<Error>(m_database.fault("read"));
        if (found.first.n == 0)
            return fail(Code::not_found, std::string(job), "there is no outage of that name");
        return found;
    }

    Result<std::string> keep(std::string_view text) override
    {
        if (find_not_utf8(text) != std::string_view::npos)
            return fail(Code::invalid_input, "journal", "a text to keep must be UTF-8");
        std::string hash = sha256_hex(text);
        if (auto known = find_kept(hash); !known || *known)
            return known ? Result<std::string>(std::move(hash)) : hand_up(known);
        if (!m_read_only_because.empty())
            return fail(Code::denied, "journal", "nothing can be written: " + m_read_only_because);
        Run const run(m_add_kept);
        m_add_kept.bind(1, hash);
        m_add_kept.bind(2, text);
        if (m_add_kept.step() != SQLITE_DONE) {
            Error error = m_database.fault("write to");
            m_last_fault = error.detail;
            return tl::unexpected<Error>(std::move(error));
        }
        m_last_fault.clear();
        return hash;
    }

    Result<std::string> kept(std::string_view hash) override
    {
        auto text = find_kept(hash);
        if (!text)
            return hand_up(text);
        if (!*text)
            return fail(Code::not_found, "journal", "no text is kept under " + std::string(hash));
        if (sha256_hex(**text) != hash)
            return fail(Code::corrupt, "journal",
                        "the kept text " + std::string(hash) + " does not match its hash");
        return std::move(**text);
    }

    Result<void> verify(std::string_view job) override
    {
        auto const all = entries(job);
        if (!all)
            return tl::unexpected<Error>(all.error());
        ChainCheck chain{std::string(job)};
        for (Entry const& entry : *all)
            if (auto good = chain.next(entry); !good)
                return good;
        return {};
    }

    Result<std::int64_t> verify_some(std::int64_t entries) override
    {
        Run const run(m_walk);
        m_walk.bind(1, m_verified_seq);
        m_walk.bind(2, entries);
        int code = m_walk.step();
        for (; code == SQLITE_ROW; code = m_walk.step()) {
            Entry const entry{m_walk.text(1), m_walk.whole(2), m_walk.text(3), m_walk.text(4)};
            if (m_walk.whole(0) != m_verified_seq + 1)
                return fail(Code::corrupt, "journal " + entry.job + " entry " + std::to_string(entry.n),
                            "entries before entry " + std::to_string(entry.n) + " of " + entry.job +
                                " are missing");
            ChainCheck& chain = m_verified.try_emplace(entry.job, entry.job).first->second;
            if (auto good = chain.next(entry); !good)
                return hand_up(good);
            ++m_verified_seq;
        }
        if (code != SQLITE_DONE)
            return tl::unexpected<Error>(m_database.fault("read"));
        return m_last_seq - m_verified_seq;
    }

    Result<void> verify_all() override { return verify_store(m_database); }

    Result<void> export_to(disk::Path const& file) override { return copy_store(m_database, file, m_base); }

    std::string why_read_only() override
    {
        if (!m_read_only_because.empty())
            return m_read_only_because;
        if (!m_last_fault.empty() && !probe())
            return m_last_fault;
        m_last_fault.clear();
        if (m_base.vfs) // not the system's disk: its free space says nothing
            return {};
        return why_no_room();
    }

private:
    Result<Head> head_of(std::string_view job)
    {
        if (auto const known = m_heads.find(job); known != m_heads.end())
            return known->second;
        Run const run(m_find_head);
        m_find_head.bind(1, job);
        Head head;
        int const code = m_find_head.step();
        if (code == SQLITE_ROW) {
            head.id = m_find_head.whole(0);
            if (!m_find_head.is_null(1)) {
                head.n = m_find_head.whole(1);
                head.hash = m_find_head.text(2);
            }
        } else if (code != SQLITE_DONE) {
            return tl::unexpected<Error>(m_database.fault("read"));
        }
        return head;
    }

    Result<void> write(Head head, Entry const& entry)
    {
        bool const new_job = head.id == 0;
        if (new_job) // two rows: they need a transaction of their own
            head.id = m_last_job + 1;
        if (new_job)
            if (auto begun = m_database.run("BEGIN IMMEDIATE"); !begun)
                return begun;
        if (auto written = write_rows(head, entry, new_job); !written) {
            if (!sqlite3_get_autocommit(m_database.handle()))
                static_cast<void>(m_database.run("ROLLBACK")); // the write's own fault is the one to report
            return written;
        }
        m_last_job = std::max(m_last_job, head.id);
        ++m_last_seq;
        m_heads.insert_or_assign(entry.job, Head{head.id, entry.n, entry.hash});
        return {};
    }

    Result<void> write_rows(Head const& head, Entry const& entry, bool new_job)
    {
        if (new_job) {
            Run const run(m_add_job);
            m_add_job.bind(1, head.id);
            m_add_job.bind(2, entry.job);
            if (m_add_job.step() != SQLITE_DONE)
                return tl::unexpected<Error>(m_database.fault("write to"));
        }
        {
            Run const run(m_add_entry);
            m_add_entry.bind(1, m_last_seq + 1);
            m_add_entry.bind(2, head.id);
            m_add_entry.bind(3, entry.n);
            m_add_entry.bind(4, entry.body);
            m_add_entry.bind(5, entry.hash);
            if (m_add_entry.step() != SQLITE_DONE)
                return tl::unexpected<Error>(m_database.fault("write to"));
        }
        return new_job ? m_database.run("COMMIT") : Result<void>{};
    }

    Result<std::optional<std::string>> find_kept(std::string_view hash)
    {
        Run const run(m_find_kept);
        m_find_kept.bind(1, hash);
        int const code = m_find_kept.step();
        if (code == SQLITE_ROW)
            return std::optional<std::string>(m_find_kept.text(0));
        if (code != SQLITE_DONE)
            return tl::unexpected<Error>(m_database.fault("read"));
        return std::optional<std::string>();
    }

    /// After a fault: can the folder take a page again? Asked by writing one.
    bool probe()
    {
        disk::Path const file = m_folder / "journal.probe";
        if (m_base.disk.exists(file))
            static_cast<void>(m_base.disk.remove(file)); // what is left of a probe cut off; create tells
        bool const written = m_base.disk.create(file, std::string(4096, '\0')).has_value();
        bool const removed = m_base.disk.remove(file).has_value();
        return written && removed;
    }

    std::string why_no_room() const
    {
        int const number = why_not_writable(m_folder / "journal.lock");
        if (number == EROFS || (number == 0 && ::access(m_folder.c_str(), W_OK) != 0))
            return "the folder " + m_folder.string() + " is read-only";
        struct statvfs about {};
        if (::statvfs(m_folder.c_str(), &about) != 0)
            return "the disk of " + m_folder.string() + " does not answer";
        std::uint64_t const room = std::uint64_t{about.f_bavail} * about.f_frsize;
        if (room < reserve_bytes)
            return "the disk is full: " + std::to_string(room / 1024) + " kB are left in " +
                   m_folder.string();
        return {};
    }

    FileLock m_lock; // first in, last out: the connection closes under the lock
    disk::Path m_folder;
    StoreBase m_base;
    Database m_database;
    Statement m_add_entry, m_add_job, m_find_head, m_list, m_ends, m_walk, m_find_kept, m_add_kept;
    std::string m_read_only_because;
    std::string m_last_fault;
    std::int64_t m_last_seq = 0, m_last_job = 0;
    std::int64_t m_verified_seq = 0; ///< of verify_some
    std::unordered_map<std::string, ChainCheck> m_verified;
    std::unordered_map<std::string, Head, TextHash, std::equal_to<>> m_heads;
};

} // namespace

Result<std::unique_ptr<Journal>> make_store(disk::Path const& folder, StoreBase base, Database database,
                                            FileLock lock, std::string read_only_because)
{
    auto store = std::make_unique<Store>(folder, base, std::move(database), std::move(lock),
                                         std::move(read_only_because));
    if (auto done = store->prepare(); !done)
        return hand_up(done);
    return store;
}

} // namespace isochore::journal
