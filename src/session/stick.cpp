#include "session/stick.h"
#include "seal/keys.h"
#include "session/display.h"
#include "json/read.h"
#include <memory>

namespace isochore::session {

using Code = Error::Code;

namespace {

/// One value of the unit: what it is called on the stick and where the outage has it.
struct UnitValue {
    char const* name;
    char const* reference;
    bool required;
};

constexpr UnitValue unit_values[] = {
    {"station", "job:station", true},
    {"bay", "job:bay", true},
    {"breaker_serial", "job:serial", true},
    {"job", "job:job_no", true},
    {"unit_serial", "step:settings.unit_serial", true},
    {"sensor_serial", "step:settings.sensor_serial", true},
    {"ct_ratio", "step:currents.ratio.ratio", true},
    {"ct_terminals", "step:currents.terminals", true},
    {"pick_up_turns", "step:currents.turns", true},
    {"trip_wiring", "step:prepare.trip_wiring", true},
    {"trip_resistor", "step:timing.resistor_value", false},
};

Result<std::string> unit_file(Outage const& outage)
{
    Json values = Json::object();
    for (auto const& v : unit_values) {
        auto const text = resolve_text(outage.context(), v.reference);
        if (!text && v.required)
            return fail(Code::missing_input, label_of(v.name), "this value of the unit is not recorded yet");
        if (text)
            values[v.name] = *text;
    }
    Json const& first = outage.bodies().front();
    Json const file{{"format", "isochore.unit/1"},
                    {"outage", outage.job()},
                    {"profile", first.value("profile", Json::object())},
                    {"values", values}};
    return file.dump(2) + "\n";
}

} // namespace

Result<std::vector<media::SetFile>> stick_files(Outage const& outage)
{
    auto unit = unit_file(outage);
    if (!unit)
        return tl::unexpected(unit.error());
    std::string const hash =
        outage.bodies().front().value("profile", Json::object()).value("hash", std::string());
    auto profile = outage.journal().kept(hash);
    if (!profile)
        return tl::unexpected(profile.error());
    return std::vector<media::SetFile>{{"PROFILE.JSN", std::move(*profile)}, {"UNIT.JSN", std::move(*unit)}};
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
    auto const written =
        media::write_set(workspace.disk(), target, *files, *signer, stamp(workspace.clock().now()), progress);
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
