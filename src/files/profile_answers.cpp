#include "files/profile_answers.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::files {

Json to_json(std::vector<Error> const& errors)
{
    Json list = Json::array();
    for (auto const& e : errors)
        list.push_back({{"code", code_name(e.code)}, {"where", e.where}, {"detail", e.detail}});
    return list;
}

Json to_json(model::DerivedProfile const& derived)
{
    Json values = Json::array();
    for (auto const& v : derived.values)
        values.push_back({{"path", v.path},
                          {"label", v.label},
                          {"si", v.si},
                          {"si_unit", si_unit(v.dimension).name},
                          {"shown", fmt::format("{} {}", show_number(v.shown(), 5), v.unit)},
                          {"from", v.from}});
    return {{"values", values}, {"problems", to_json(derived.problems)}};
}

Json to_json(std::vector<model::ProfileDifference> const& differences)
{
    Json list = Json::array();
    for (auto const& d : differences) {
        Json line = {
            {"kind", model::kind_name(d.kind)}, {"path", d.path}, {"label", d.label}, {"a", d.a}, {"b", d.b}};
        if (d.kind == model::ProfileDifference::Kind::physical && std::isfinite(d.share))
            line["share"] = d.share;
        if (d.step_k)
            line["difference_k"] = *d.step_k;
        list.push_back(std::move(line));
    }
    return list;
}

Json to_json(NameplateImport const& import)
{
    Json rows = Json::array();
    for (auto const& row : import.rows)
        rows.push_back({{"line", row.line},
                        {"id", row.id},
                        {"taken", row.taken},
                        {"refused", to_json(row.refused)},
                        {"open", to_json(row.open)}});
    return {{"rows", rows}, {"errors", to_json(import.errors)}};
}

Json to_json(LibraryEntry const& entry)
{
    return {{"id", entry.profile.id},
            {"revision", entry.profile.revision},
            {"status", entry.profile.status},
            {"title", entry.profile.title},
            {"file", entry.file},
            {"sha256", entry.sha256},
            {"newest", entry.newest},
            {"invented", entry.profile.invented},
            {"faults", entry.faults.size()}};
}

} // namespace isochore::files
