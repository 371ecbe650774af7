#include "session/stick.h"
#include "media/stick_content.h"
#include "media/stick_release.h"
#include "seal/keys.h"
#include "session/trust_store.h"
#include "json/read.h"
#include <fcntl.h>
#include <fmt/format.h>
#include <memory>
#include <unistd.h>
#include <utility>

namespace isochore::session {

using Code = Error::Code;

namespace {

/// One value of the unit: its path on the stick and where the outage has it.
struct UnitSource {
    char const* path;
    char const* reference;
};

constexpr UnitSource sources[] = {
    {"station.name", "job:station"},
    {"station.bay", "job:bay"},
    {"breaker.serial", "job:serial"},
    {"unit.serial", "step:settings.unit_serial"},
    {"sensor.serial", "step:settings.sensor_serial"},
    {"ct.terminals", "step:currents.terminals"},
    {"timing.resistor", "step:timing.resistor_value"},
};

bool sync_folder(disk::Path const& folder)
{
    int const fd = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0)
        return false;
    bool const synced = ::syncfs(fd) == 0;
    ::close(fd);
    return synced;
}

/// "2000 A" to "2000": ratios and counts stand on the stick without units.
std::string number_of(std::optional<std::string> const& typed)
{
    return typed ? typed->substr(0, typed->find(' ')) : std::string();
}

} // namespace

media::UnitValues unit_values_of(Outage const& outage)
{
    auto const context = outage.context();
    media::UnitValues unit;
    unit.job = outage.job();
    unit.profile_id = outage.profile().id;
    unit.profile_revision = outage.profile().revision;
    for (auto const& s : sources)
        if (auto const text = resolve_text(context, s.reference))
            unit.values[s.path] = *text;
    std::string const primary = number_of(resolve_text(context, "step:currents.tap_primary"));
    std::string const secondary = number_of(resolve_text(context, "step:currents.tap_secondary"));
    if (!primary.empty() && !secondary.empty())
        unit.values["ct.ratio"] = primary + ":" + secondary;
    std::string const lead = resolve_text(context, "step:currents.path").value_or("");
    if (!lead.empty())
        unit.values["ct.lead"] = lead.starts_with("delta") ? "delta" : "star";
    std::string const aux_primary = number_of(resolve_text(context, "step:currents.aux_primary"));
    std::string const aux_secondary = number_of(resolve_text(context, "step:currents.aux_secondary"));
    if (lead.ends_with("auxiliary") && !aux_primary.empty() && !aux_secondary.empty())
        unit.values["ct.auxiliary"] = aux_primary + ":" + aux_secondary;
    if (std::string const turns = number_of(resolve_text(context, "step:currents.turns")); !turns.empty())
        unit.values["ct.turns"] = turns;
    if (auto const wiring = resolve_text(context, "step:prepare.trip_wiring"))
        unit.values["timing.wiring"] =
            *wiring == "output" ? "separate wetted output" : "across the trip coil";
    return unit;
}

Result<std::vector<media::SetFile>> stick_files(Outage const& outage)
{
    auto const unit = unit_values_of(outage);
    auto const layered = media::layer(outage.profile(), unit);
    if (!layered.conflicts.empty())
        return fail(Code::invalid_input, layered.conflicts.front().label, layered.conflicts.front().detail);
    if (!layered.missing.empty())
        return fail(Code::missing_input, layered.missing.front().where, layered.missing.front().detail);
    return media::stick_content({outage.profile()}, {{outage.profile(), unit}});
}

Result<media::Signer> tablet_signer(Workspace& workspace)
{
    auto key = seal::load_or_make_key(workspace.disk(), workspace.folders().data);
    if (!key)
        return tl::unexpected(key.error());
    auto const shared = std::make_shared<seal::TabletKey>(std::move(*key));
    return media::Signer{shared->public_key(),
                         [shared](std::string_view bytes) { return shared->sign(bytes); }};
}

Result<void> enter_stick(Outage& outage, disk::Path const& target, media::VerifiedSet const& set)
{
    Json files = Json::array();
    Json hashes = Json::object();
    for (auto const& f : set.files) {
        files.push_back(f.name);
        hashes[f.name] = sha256_hex(f.bytes);
    }
    return outage.note({{"type", "stick_written"},
                        {"target", target.string()},
                        {"set", set.set},
                        {"made_at", set.made_at},
                        {"files", files},
                        {"hashes", hashes},
                        {"key", set.key}});
}

namespace {

/// No two sets of one key are of the same second, and a later one is never of an earlier: readers tell by the
/// time which is stale, also after the clock was set back.
void date_the_set(Now const& now, StickWork& work)
{
    work.made_at = utc_stamp(now);
    auto const* own = work.trust.find(work.signer.public_key_hex);
    if (!own || own->newest_seen < work.made_at)
        return;
    Now after;
    after.utc_ms = stamp_ms(own->newest_seen.substr(0, 19) + "+00:00") + 1000;
    std::string const clock = std::exchange(work.made_at, utc_stamp(after));
    constexpr std::int64_t worth_saying_ms = 60'000;
    if (after.utc_ms - now.utc_ms > worth_saying_ms)
        work.note =
            fmt::format("the clock says {}, before the last set this tablet signed; this one is dated "
                        "{}, so that no reader takes it for an old one",
                        clock, work.made_at);
}

} // namespace

Result<StickWork> prepare_stick(Workspace& workspace, std::vector<media::SetFile> files,
                                disk::Path const& target, bool removable)
{
    auto signer = tablet_signer(workspace);
    if (!signer)
        return tl::unexpected(signer.error());
    auto trust = tablet_trust(workspace);
    if (!trust)
        return tl::unexpected(trust.error());
    StickWork work{std::move(files), std::move(*signer), std::move(*trust), {}, {}, target, removable};
    date_the_set(workspace.clock().now(), work);
    return work;
}

StickOutcome do_stick(disk::Disk& disk, StickWork const& work, media::Progress const& progress)
{
    StickOutcome out;
    out.begun = true;
    auto const before = media::newest_valid_set(disk, work.target, work.trust);
    if (before)
        out.before = before->set, out.before_made_at = before->made_at;
    auto const written = media::write_set(disk, work.target, work.files, work.signer, work.made_at, progress);
    // What counts is what a reader finds there now, not what the writer believes.
    auto set = written ? media::verify_set(disk, work.target, written->set, work.trust)
                       : Result<media::VerifiedSet>(tl::unexpected(written.error()));
    if (set) {
        out.set = std::move(*set);
        out.notes = written->notes;
        if (!work.note.empty())
            out.notes.push_back(work.note);
        out.away = put_away(work.target, work.removable);
        return out;
    }
    out.error = set.error();
    if (auto const now = media::newest_valid_set(disk, work.target, work.trust); now && before)
        out.before_verified = now->set == before->set;
    return out;
}

PutAway put_away(disk::Path const& target, bool removable)
{
    if (!removable)
        return {false, sync_folder(target)
                           ? "Everything is written. If this folder lies on a stick, eject the stick in the "
                             "file manager before pulling it."
                           : "The folder could not be flushed: verify the set before you rely on it."};
    auto const released = media::release_stick(target);
    if (!released)
        return {false, released.error().detail};
    return {released->unmounted, released->say};
}

Result<media::VerifiedSet> write_stick(Workspace& workspace, Outage& outage, disk::Path const& target,
                                       media::Progress const& progress)
{
    auto files = stick_files(outage);
    if (!files)
        return tl::unexpected(files.error());
    auto const work = prepare_stick(workspace, std::move(*files), target, false);
    if (!work)
        return tl::unexpected(work.error());
    auto const written =
        media::write_set(workspace.disk(), target, work->files, work->signer, work->made_at, progress);
    if (!written)
        return tl::unexpected(written.error());
    auto set = media::verify_set(workspace.disk(), target, written->set, work->trust);
    if (!set)
        return set;
    if (auto const entered = enter_stick(outage, target, *set); !entered)
        return tl::unexpected(entered.error());
    if (auto const seen = TrustStore(workspace.journal()).see(*set, workspace.clock().now()); !seen)
        return tl::unexpected(seen.error());
    if (!work->note.empty())
        set->notes.push_back(work->note);
    return set;
}

} // namespace isochore::session
