#include "seal/record.h"
#include "disk/whole_file.h"
#include "journal/chain.h"
#include "json/canonical_scan.h"
#include "json/hex.h"
#include "json/read.h"
#include <algorithm>
#include <future>
#include <thread>

namespace isochore::seal {
namespace {

using Code = Error::Code;
using Member = CanonicalScan::Member;

constexpr std::size_t worth_a_thread = 4096; // entries

tl::unexpected<Error> broken(std::string why)
{
    return fail(Code::corrupt, "record", "the record was changed or is damaged: " + std::move(why));
}

// In one place: what is signed, whoever asks.
std::string signed_text(std::string_view count, std::string_view head, std::string_view job_json,
                        std::string_view rest)
{
    std::string out = "{\"count\":";
    out.append(count).append(",\"format\":\"").append(record_format).append("\",\"head\":\"").append(head);
    out.append("\",\"job\":").append(job_json).append(",\"rest\":\"").append(sha256_hex(rest)).append("\"}");
    return out;
}

std::string_view unquoted(std::string_view json)
{
    bool const text = json.size() >= 2 && json.front() == '"' && json.back() == '"';
    return text ? json.substr(1, json.size() - 2) : std::string_view();
}

std::string_view member(std::vector<Member> const& members, std::string_view name)
{
    auto const at =
        std::lower_bound(members.begin(), members.end(), name, [](Member const& m, std::string_view n) {
            return m.name < n; // canonical order; the names looked for are plain
        });
    return at != members.end() && at->name == name ? at->value : std::string_view();
}

// The record cut into its parts, each known to be canonical but not yet to belong together.
struct Parts {
    std::string_view count;
    std::vector<std::string_view> bodies;
    std::vector<std::string_view> prevs; ///< of the bodies
    std::vector<Member> frame;           ///< the members after "entries"
    std::string_view after_entries;      ///< their text: ,"format":…}
};

Result<void> take_body(CanonicalScan& scan, std::string_view text, std::string& job_json, Parts& parts,
                       std::vector<Member>& members)
{
    std::size_t const start = scan.at();
    std::size_t const n = parts.bodies.size() + 1;
    if (!scan.object(members))
        return broken("entry " + std::to_string(n) + " is not canonical JSON at byte " +
                      std::to_string(scan.at()));
    std::string_view const job = member(members, "job"), prev = unquoted(member(members, "prev"));
    if (job_json.empty())
        job_json = job;
    if (unquoted(job).empty() || job != job_json)
        return broken("entry " + std::to_string(n) + " belongs to another job");
    if (member(members, "n") != std::to_string(n))
        return broken("entry " + std::to_string(n) + " carries another number");
    if (n == 1 && prev != journal::no_hash)
        return broken("entry 1 is not the first of its job");
    parts.bodies.push_back(text.substr(start, scan.at() - start));
    parts.prevs.push_back(prev);
    return {};
}

Result<Parts> cut(std::string_view text)
{
    CanonicalScan scan(text);
    auto const not_canonical = [&] {
        return broken("it is not canonical at byte " + std::to_string(scan.at()));
    };
    Parts parts;
    if (!scan.take("{\"count\":"))
        return not_canonical();
    std::size_t const count_at = scan.at();
    if (!scan.value())
        return not_canonical();
    parts.count = text.substr(count_at, scan.at() - count_at);
    if (!scan.take(",\"entries\":["))
        return not_canonical();
    std::string job_json;
    std::vector<Member> members;
    do {
        if (auto taken = take_body(scan, text, job_json, parts, members); !taken)
            return tl::unexpected<Error>(taken.error());
    } while (scan.take(","));
    std::size_t const end = scan.at();
    if (!scan.take("],"))
        return not_canonical();
    // The rest of the outer object: as an object of its own, its first comma for the brace.
    CanonicalScan rest(text.substr(scan.at()));
    bool const good = rest.members(parts.frame);
    if (!good || !rest.finished())
        return broken("it is not canonical at byte " + std::to_string(scan.at() + rest.at()));
    parts.after_entries = text.substr(end + 1);
    if (member(parts.frame, "job") != job_json)
        return broken("its entries belong to another job");
    if (parts.count != std::to_string(parts.bodies.size()))
        return broken("it should hold " + std::string(parts.count) + " entries and holds " +
                      std::to_string(parts.bodies.size()));
    return parts;
}

// Each body's hash is in the next one, the last one's is the head: all can be checked side by side.
std::size_t first_broken_link(Parts const& parts, std::string_view head)
{
    std::size_t const size = parts.bodies.size();
    auto const check = [&](std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i)
            if (sha256_hex(parts.bodies[i]) != (i + 1 < size ? parts.prevs[i + 1] : head))
                return i;
        return size;
    };
    std::size_t const threads =
        std::clamp<std::size_t>(size / worth_a_thread, 1, std::max(1u, std::thread::hardware_concurrency()));
    std::vector<std::future<std::size_t>> others;
    for (std::size_t t = 1; t < threads; ++t)
        others.push_back(std::async(std::launch::async, check, size * t / threads, size * (t + 1) / threads));
    std::size_t first = check(0, size / threads);
    for (auto& other : others)
        first = std::min(first, other.get());
    return first;
}

Result<std::map<std::string, std::string>> read_kept(std::string_view json)
{
    auto const parsed = read_json(json, "record kept");
    if (!parsed || !parsed->is_object())
        return broken("its kept texts cannot be read");
    std::map<std::string, std::string> out;
    for (auto const& [hash, text] : parsed->items()) {
        if (!text.is_string() || sha256_hex(text.get_ref<std::string const&>()) != hash)
            return broken("the kept text " + hash + " does not match its hash");
        out.emplace(hash, text.get<std::string>());
    }
    return out;
}

// A format of the future may be laid out in any way: its name is looked for in plain JSON.
Result<void> check_format(std::string_view text, Parts const* parts)
{
    std::string format;
    if (parts) {
        format = unquoted(member(parts->frame, "format"));
    } else if (auto const json = read_json(text, "record"); json && json->is_object()) {
        auto const at = json->find("format");
        format = at != json->end() && at->is_string() ? at->get<std::string>() : std::string(record_format);
    } else {
        return {}; // not even JSON: the fault found first says more
    }
    if (format == record_format)
        return {};
    return fail(Code::unknown, "record",
                "the record's format \"" + format.substr(0, 80) +
                    "\" is not known to this program, which knows \"" + std::string(record_format) + "\"");
}

Result<void> check_members(Parts const& parts)
{
    static constexpr std::string_view names[] = {"format", "head", "job", "kept", "signature", "signed_by"};
    bool const same = std::equal(parts.frame.begin(), parts.frame.end(), std::begin(names), std::end(names),
                                 [](Member const& m, std::string_view name) { return m.name == name; });
    if (!same)
        return broken("it has members that do not belong there, or lacks some");
    return {};
}

// Everything but the entries and the signature, as the canonical object it would be without them.
std::string rest_of(std::string_view count, std::string_view after_entries)
{
    std::string out = "{\"count\":";
    out.append(count);
    std::size_t const signature = after_entries.rfind(",\"signature\":\"");
    std::size_t const signed_by = after_entries.rfind(",\"signed_by\":\"");
    out.append(after_entries.substr(0, signature)).append(after_entries.substr(signed_by));
    return out;
}

} // namespace

Result<std::string> seal_entries(std::string_view job, std::span<journal::Entry const> entries,
                                 std::map<std::string, std::string> const& kept, TabletKey const& key)
{
    if (entries.empty())
        return fail(Code::not_found, "record", "the job " + std::string(job) + " has no entries to seal");
    Json kept_json = Json::object();
    for (auto const& [hash, text] : kept)
        kept_json[hash] = text;
    auto const job_json = canonical_json(Json(job));
    auto const kept_text = canonical_json(kept_json);
    if (!job_json || !kept_text)
        return tl::unexpected<Error>(job_json ? kept_text.error() : job_json.error());
    std::string const count = std::to_string(entries.size()), head = entries.back().hash;
    std::string before = ",\"format\":\"" + std::string(record_format);
    before.append("\",\"head\":\"").append(head).append("\",\"job\":").append(*job_json);
    before.append(",\"kept\":").append(*kept_text);
    std::string const after = ",\"signed_by\":\"" + key.public_key() + "\"}";
    std::string const signature =
        key.sign(signed_text(count, head, *job_json, "{\"count\":" + count + before + after));
    std::string out = "{\"count\":" + count + ",\"entries\":[";
    std::size_t size = out.size() + before.size() + after.size() + 200;
    for (journal::Entry const& entry : entries)
        size += entry.body.size() + 1;
    out.reserve(size);
    for (journal::Entry const& entry : entries)
        out.append(entry.body).append(",");
    out.back() = ']';
    out.append(before).append(",\"signature\":\"").append(signature).append("\"").append(after);
    // What cannot be verified is not handed out: entries out of order, a text under a wrong hash.
    if (auto good = verify_record(out, key.public_key()); !good)
        return tl::unexpected<Error>(good.error());
    return out;
}

Result<std::string> build_record(journal::Journal& store, std::string_view job,
                                 std::span<std::string const> kept_hashes, TabletKey const& key)
{
    auto const entries = store.entries(job);
    if (!entries)
        return tl::unexpected<Error>(entries.error());
    std::map<std::string, std::string> kept;
    for (std::string const& hash : kept_hashes) {
        auto text = store.kept(hash);
        if (!text)
            return text;
        kept.emplace(hash, std::move(*text));
    }
    return seal_entries(job, *entries, kept, key);
}

Result<Record> verify_record(std::string_view text, std::string_view expected_key)
{
    auto const parts = cut(text);
    if (auto known = check_format(text, parts ? &*parts : nullptr); !known)
        return tl::unexpected<Error>(known.error());
    if (!parts)
        return tl::unexpected<Error>(parts.error());
    if (auto good = check_members(*parts); !good)
        return tl::unexpected<Error>(good.error());
    Record record;
    record.head = unquoted(member(parts->frame, "head"));
    record.signature = unquoted(member(parts->frame, "signature"));
    record.signed_by = unquoted(member(parts->frame, "signed_by"));
    if (!is_hex(record.head, 64))
        return broken("its head is not a hash");
    if (std::size_t const bad = first_broken_link(*parts, record.head); bad < parts->bodies.size())
        return broken("entry " + std::to_string(bad + 1) + " does not match its hash");
    std::string_view const job_json = member(parts->frame, "job");
    if (!signature_holds(
            record.signed_by,
            signed_text(parts->count, record.head, job_json, rest_of(parts->count, parts->after_entries)),
            record.signature))
        return broken("its signature does not hold");
    auto kept = read_kept(member(parts->frame, "kept"));
    auto const job = read_json(job_json, "record job");
    if (!kept || !job)
        return tl::unexpected<Error>(kept ? job.error() : kept.error());
    if (!expected_key.empty() && record.signed_by != expected_key)
        return fail(Code::denied, "record",
                    "the record holds together but was sealed by the tablet " + record.fingerprint() +
                        ", not by " + fingerprint_of(expected_key));
    record.kept = std::move(*kept);
    record.job = job->get<std::string>();
    record.entries = parts->bodies;
    return record;
}

Result<void> write_record(disk::Disk& disk, disk::Path const& file, std::string_view text)
{
    if (auto const good = verify_record(text); !good)
        return tl::unexpected<Error>(good.error());
    return disk::write_whole(disk, file, text);
}

} // namespace isochore::seal
