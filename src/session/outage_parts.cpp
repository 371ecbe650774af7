#include "session/outage_parts.h"
#include "model/job_rules.h"
#include "session/own_parts.h"
#include "json/member.h"
#include <algorithm>

namespace isochore::session {
namespace {

using model::Step;
using model::StepKind;

/// Ids of the store's parts that a calculation counts into its answer. A fitting counts where it is answered,
/// so only what the kit list takes by itself is left.
std::vector<std::string> counted(Json const& inputs)
{
    std::vector<std::string> ids;
    for (auto const& holder : {inputs, member(inputs, "job")})
        for (auto const& rule : member(holder, "kit_rules"))
            ids.push_back(text_member(rule, "id"));
    return ids;
}

/// Steps whose results hang on a part.
std::vector<std::string> users_of(Outage const& outage, std::string const& id)
{
    std::vector<std::string> users;
    auto const add = [&](std::string const& step) {
        if (std::find(users.begin(), users.end(), step) == users.end())
            users.push_back(step);
    };
    for (auto const& [step, record] : outage.state().records) {
        if (record.answer == id)
            for (Step const* user : model::dependents(outage.checklists(), step))
                add(user->id);
        auto const ids = counted(record.inputs);
        if (std::find(ids.begin(), ids.end(), id) != ids.end())
            add(step);
    }
    return users;
}

} // namespace

std::map<std::string, Json, std::less<>> taken_parts(Outage const& outage)
{
    std::map<std::string, Json, std::less<>> taken;
    for (auto const& body : outage.bodies())
        if (text_member(body, "type") == "part") {
            Json const part = member(body, "part");
            taken[text_member(part, "id")] = part;
        }
    return taken;
}

Json parts_in(Outage const& outage, Json const& store)
{
    auto taken = taken_parts(outage);
    Json parts = Json::array();
    for (auto const& part : store) {
        auto const it = taken.find(text_member(part, "id"));
        parts.push_back(it == taken.end() ? part : it->second);
        if (it != taken.end())
            taken.erase(it);
    }
    for (auto& [id, part] : taken)
        parts.push_back(std::move(part));
    return parts;
}

Result<void> take_used_parts(Outage& outage, Step const& step, std::string_view answer)
{
    Json const* const store = outage.context().parts;
    if (!store || store->empty())
        return {};
    std::vector<std::string> ids;
    if (step.more_parts && !answer.empty())
        ids.emplace_back(answer);
    if (step.kind == StepKind::compute && step.call)
        ids = counted(resolve_inputs(outage.context(), *step.call));
    auto const taken = taken_parts(outage);
    std::vector<Json> wanted;
    for (auto const& part : *store) {
        std::string const id = text_member(part, "id");
        if (!taken.contains(id) && std::find(ids.begin(), ids.end(), id) != ids.end())
            wanted.push_back(part);
    }
    for (auto& part : wanted)
        if (auto const noted = outage.note({{"type", "part"}, {"part", std::move(part)}}); !noted)
            return noted;
    return {};
}

Result<void> take_part(Outage& outage, Json const& part)
{
    return outage.note(
        {{"type", "part"}, {"part", part}, {"reopens", users_of(outage, text_member(part, "id"))}});
}

} // namespace isochore::session
