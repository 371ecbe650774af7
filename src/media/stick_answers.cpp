#include "media/stick_answers.h"
#include "json/read.h"

namespace isochore::media {
namespace {

char const* use_name(StickTarget::Use use)
{
    switch (use) {
    case StickTarget::Use::ready:
        return "ready";
    case StickTarget::Use::not_mounted:
        return "not mounted";
    case StickTarget::Use::read_only:
        return "read-only";
    case StickTarget::Use::refused:
        return "refused";
    }
    return "refused";
}

Json usb_json(UsbDevice const& usb)
{
    return {{"place", usb.place},   {"vendor_id", usb.vendor_id}, {"product_id", usb.product_id},
            {"vendor", usb.vendor}, {"product", usb.product},     {"serial", usb.serial}};
}

} // namespace

Json to_json(WrittenSet const& set)
{
    return {{"set", set.set},     {"made_at", set.made_at}, {"key", set.key},    {"files", set.files},
            {"bytes", set.bytes}, {"pruned", set.pruned},   {"notes", set.notes}};
}

Json to_json(VerifiedSet const& set)
{
    Json files = Json::array();
    for (auto const& file : set.files)
        files.push_back(
            {{"name", file.name}, {"bytes", file.bytes.size()}, {"sha256", sha256_hex(file.bytes)}});
    Json refused = Json::array();
    for (auto const& r : set.refused)
        refused.push_back({{"set", r.set}, {"unfinished", r.unfinished}, {"detail", r.error.detail}});
    return {
        {"set", set.set},     {"made_at", set.made_at}, {"key", set.key},     {"signed_by", set.signed_by},
        {"stale", set.stale}, {"files", files},         {"refused", refused}, {"notes", set.notes}};
}

Json to_json(std::vector<SetSummary> const& sets)
{
    Json list = Json::array();
    for (auto const& s : sets)
        list.push_back({{"set", s.set},
                        {"state", state_name(s.state)},
                        {"made_at", s.made_at},
                        {"key", s.key},
                        {"signed_by", s.signed_by},
                        {"files", s.files},
                        {"bytes", s.bytes},
                        {"why", s.why},
                        {"stale", s.stale},
                        {"newest_seen", s.seen}});
    return list;
}

Json to_json(StickSearch const& search)
{
    Json targets = Json::array();
    for (auto const& t : search.targets) {
        Json line = {{"name", t.name()},
                     {"use", use_name(t.use)},
                     {"folder", t.folder.string()},
                     {"block", t.block},
                     {"file_system", t.file_system},
                     {"size", t.size},
                     {"free", t.space.free},
                     {"why", t.why},
                     {"warnings", t.warnings}};
        if (t.usb)
            line["usb"] = usb_json(*t.usb);
        targets.push_back(std::move(line));
    }
    return {{"targets", targets}, {"notes", search.notes}};
}

Json to_json(UnitValues const& unit)
{
    Json values = Json::object();
    for (auto const& [path, text] : unit.values)
        values[path] = text;
    return {{"job", unit.job},
            {"profile", unit.profile_id},
            {"revision", unit.profile_revision},
            {"values", std::move(values)}};
}

Json to_json(std::vector<ReadBackRow> const& rows)
{
    Json list = Json::array();
    for (auto const& r : rows)
        list.push_back({{"path", r.path},
                        {"label", r.label},
                        {"expected", r.expected},
                        {"shown", r.shown},
                        {"state", state_name(r.state)},
                        {"detail", r.detail}});
    return list;
}

} // namespace isochore::media
