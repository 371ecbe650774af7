#include "session/unit_listing.h"
#include "session/stick.h"

namespace isochore::session {

using Origin = ListedUnit::Origin;

namespace {

/// Other outages looked through: the latest touched. Each is read and verified whole.
constexpr std::size_t most_outages = 20;

std::optional<model::Profile> profile_of(Workspace& workspace, media::UnitValues const& values)
{
    auto const* entry = workspace.find_profile(values.profile_id, values.profile_revision);
    if (!entry || !entry->faults.empty())
        entry = workspace.released_profile(values.profile_id);
    return entry ? std::optional(entry->profile) : std::nullopt;
}

std::optional<ListedUnit> look_at_outage(Workspace& workspace, std::string const& job)
{
    auto const outage = workspace.resume(job, {});
    if (!outage)
        return std::nullopt;
    auto values = unit_values_of(**outage);
    if (values.text("unit.serial").empty())
        return std::nullopt;
    return look_at_unit("outage:" + job, Origin::outage, std::move(values), (*outage)->profile());
}

} // namespace

UnitListing::UnitListing(Workspace& workspace, Outage const* in_hand, media::StickContent const* on_stick,
                         std::optional<std::set<std::string, std::less<>>> wanted)
    : m_workspace(workspace), m_wanted(std::move(wanted)), m_units(std::vector<ListedUnit>())
{
    add_outages(in_hand);
    add_kept();
    if (on_stick)
        add_on_stick(*on_stick);
    if (!m_units)
        m_todo.clear();
}

void UnitListing::add(std::string id, std::string name, std::function<std::optional<ListedUnit>()> look)
{
    if (!m_wanted || m_wanted->contains(id))
        m_todo.push_back({std::move(id), std::move(name), std::move(look)});
}

void UnitListing::add_outages(Outage const* in_hand)
{
    if (in_hand)
        add("outage:" + in_hand->job(), in_hand->job(), [in_hand] {
            return look_at_unit("outage:" + in_hand->job(), Origin::outage, unit_values_of(*in_hand),
                                in_hand->profile());
        });
    auto const outages = m_workspace.outages();
    if (!outages)
        return;
    std::size_t looked = 0;
    for (auto const& o : *outages) {
        if (o.sealed || (in_hand && o.job == in_hand->job()))
            continue;
        if (++looked > most_outages)
            break;
        add("outage:" + o.job, o.job,
            [job = o.job, &workspace = m_workspace] { return look_at_outage(workspace, job); });
    }
}

void UnitListing::add_kept()
{
    auto kept = UnitStore(m_workspace.journal()).all();
    if (!kept) {
        m_units = tl::unexpected(kept.error());
        return;
    }
    for (auto& k : *kept) {
        std::string const id = "desk:" + k.id;
        add(id, k.values.text("unit.serial"),
            [id, values = std::move(k.values), &workspace = m_workspace]() -> std::optional<ListedUnit> {
                return look_at_unit(id, Origin::desk, values, profile_of(workspace, values));
            });
    }
}

void UnitListing::add_on_stick(media::StickContent const& content)
{
    for (auto const& on_stick : content.units) {
        std::string const id = "stick:" + on_stick.first;
        add(id, on_stick.second.text("unit.serial"),
            [id, &content, &values = on_stick.second]() -> std::optional<ListedUnit> {
                std::optional<model::Profile> profile;
                for (auto const& [name, p] : content.profiles)
                    if (p.id == values.profile_id && p.revision == values.profile_revision)
                        profile = p;
                return look_at_unit(id, Origin::stick, values, std::move(profile));
            });
    }
}

bool UnitListing::step()
{
    if (finished())
        return false;
    if (auto unit = m_todo[m_done].look())
        m_units->push_back(std::move(*unit));
    ++m_done;
    return !finished();
}

std::string UnitListing::at() const
{
    return finished() ? std::string() : m_todo[m_done].name;
}

Result<ListedUnit> kept_unit(Workspace& workspace, std::string_view id)
{
    auto kept = UnitStore(workspace.journal()).find(id);
    if (!kept)
        return tl::unexpected(kept.error());
    if (!*kept)
        return fail(Error::Code::not_found, std::string(id), "there is no such unit");
    auto profile = profile_of(workspace, (*kept)->values);
    return look_at_unit("desk:" + (*kept)->id, Origin::desk, std::move((*kept)->values), std::move(profile));
}

Result<std::vector<ListedUnit>> list_units(Workspace& workspace, Outage const* in_hand,
                                           media::StickContent const* on_stick)
{
    UnitListing listing(workspace, in_hand, on_stick);
    while (listing.step()) {
    }
    return listing.take();
}

} // namespace isochore::session
