#include "session/stick.h"
#include "media/stick_content.h"
#include "seal/keys.h"
#include "json/read.h"
#include <memory>

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

Result<media::Trust> tablet_trust(Workspace& workspace)
{
    auto const key = seal::load_or_make_key(workspace.disk(), workspace.folders().data);
    if (!key)
        return tl::unexpected(key.error());
    media::Trust trust;
    trust.keys.push_back({key->public_key(), "this tablet", {}, {}});
    trust.verify = seal::signature_holds;
    return trust;
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

Result<media::VerifiedSet> write_stick(Workspace& workspace, Outage& outage, disk::Path const& target,
                                       media::Progress const& progress)
{
    auto const files = stick_files(outage);
    if (!files)
        return tl::unexpected(files.error());
    auto const signer = tablet_signer(workspace);
    if (!signer)
        return tl::unexpected(signer.error());
    auto const trust = tablet_trust(workspace);
    if (!trust)
        return tl::unexpected(trust.error());
    auto const written = media::write_set(workspace.disk(), target, *files, *signer,
                                          utc_stamp(workspace.clock().now()), progress);
    if (!written)
        return tl::unexpected(written.error());
    auto set = media::verify_set(workspace.disk(), target, written->set, *trust);
    if (!set)
        return set;
    if (auto const entered = enter_stick(outage, target, *set); !entered)
        return tl::unexpected(entered.error());
    return set;
}

} // namespace isochore::session
