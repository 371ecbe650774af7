#include "calc/gwp_sources.h"
#include "calc/part_data.h"
#include "json/member.h"
#include "json/read.h"

namespace isochore::calc {

using Code = Error::Code;

Result<std::vector<GwpSource>> gwp_sources()
{
    auto const json = read_json(part_data("gwp"), "gwp.json");
    if (!json)
        return tl::unexpected(json.error());
    std::vector<GwpSource> list;
    Json const sources = member(*json, "sources");
    for (auto const& item : sources.is_array() ? sources : Json::array()) {
        GwpSource source{text_member(item, "id"), text_member(item, "name"), number_member(item, "value"),
                         text_member(item, "source"), text_member(item, "confidence") == "confirmed"};
        if (source.id.empty() || source.name.empty() || source.source.empty() || !(source.value > 0.0))
            return fail(Code::corrupt, "gwp.json", "a source lacks its id, name, value or source");
        list.push_back(std::move(source));
    }
    if (list.empty())
        return fail(Code::corrupt, "gwp.json", "no source of a GWP is listed");
    return list;
}

Result<GwpSource> gwp_source(std::string_view id)
{
    auto const all = gwp_sources();
    if (!all)
        return tl::unexpected(all.error());
    std::string known;
    for (auto const& source : *all) {
        if (source.id == id)
            return source;
        known += (known.empty() ? "" : ", ") + source.id;
    }
    return fail(Code::unknown, "gwp",
                "\"" + std::string(id) + "\" is no source of a GWP; there are " + known);
}

} // namespace isochore::calc
