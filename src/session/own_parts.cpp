#include "session/own_parts.h"
#include "calc/part_reading.h"
#include "disk/whole_file.h"
#include "quantity/amount.h"
#include "json/member.h"
#include "json/read.h"
#include <algorithm>
#include <cctype>
#include <fmt/format.h>

namespace isochore::session {
namespace {

constexpr std::size_t largest_part = 1u << 16;

std::string fault_of_amount(std::string const& typed, Dimension dimension, bool may_be_zero)
{
    auto const amount = parse_amount(typed, dimension, "part");
    if (!amount)
        return amount.error().detail;
    if (amount->si < 0.0)
        return fmt::format("{} is below zero: a part's size, mass and rating are not negative", typed);
    return may_be_zero || amount->si > 0.0 ? std::string() : fmt::format("{} must be above zero", typed);
}

std::string fault_of_end(Json const& part, std::size_t at)
{
    Json const ends = member(part, "ends");
    std::string const typed =
        ends.is_array() && at < ends.size() && ends[at].is_string() ? ends[at].get<std::string>() : "";
    if (typed.empty())
        return at == 0 ? "write thread, size and gender of the first end, for example \"G 1/2 male\"" : "";
    auto const end = calc::parse_end(typed, "part");
    return end ? std::string() : end.error().detail;
}

std::string fault_of_number(std::string const& typed, bool whole)
{
    auto const amount = parse_amount(typed, Dimension::count, "part");
    if (!amount)
        return fmt::format("\"{}\" is no number", typed);
    if (amount->si < 0.0)
        return "cannot be negative";
    return whole && amount->si == 0.0 ? "must be above zero" : "";
}

double number_of(Json const& part, char const* name)
{
    auto const amount = parse_amount(text_member(part, name), Dimension::count, name);
    return amount ? amount->si : 0.0;
}

} // namespace

std::vector<std::string> const& part_fields(std::string_view group)
{
    static std::vector<std::string> const fitting{"name",         "end1",   "end2",      "length",
                                                  "bore",         "volume", "mass",      "cost",
                                                  "max_pressure", "source", "confidence"};
    static std::vector<std::string> const wire{"name", "cost", "source", "confidence"};
    static std::vector<std::string> const spare{"name", "per", "each", "cost", "source", "confidence"};
    return group == "wire" ? wire : group == "spare" ? spare : fitting;
}

std::string fault_of_field(Json const& part, std::string const& field)
{
    if (field == "end1" || field == "end2")
        return fault_of_end(part, field == "end1" ? 0 : 1);
    std::string const typed = text_member(part, field.c_str());
    bool const empty = typed.find_first_not_of(' ') == std::string::npos;
    if (field == "name")
        return empty || part_id(typed) == "own-" ? "write a name that tells the part from others" : "";
    if (field == "source")
        return empty ? "write where the figures are from: catalogue, drawing, measured" : "";
    if (field == "confidence")
        return typed == "confirmed" || typed == "unconfirmed" ? "" : "say confirmed or unconfirmed";
    if (field == "per") {
        static constexpr std::string_view words[] = {"job",     "person", "joint",
                                                     "circuit", "input",  "fastener"};
        return std::find(std::begin(words), std::end(words), typed) == std::end(words)
                   ? "say what it is counted from: job, person, joint, circuit, input or fastener"
                   : "";
    }
    if (field == "cost" || field == "each")
        return empty ? (field == "each" ? "write how many" : "") : fault_of_number(typed, field == "each");
    if (empty)
        return field == "length" || field == "mass" ? "is needed: write a number with its unit" : "";
    if (field == "length")
        return fault_of_amount(typed, Dimension::length, false);
    if (field == "bore")
        return fault_of_amount(typed, Dimension::length, false);
    if (field == "volume")
        return fault_of_amount(typed, Dimension::volume, true);
    if (field == "mass")
        return fault_of_amount(typed, Dimension::mass, false);
    return fault_of_amount(typed, Dimension::pressure_difference, false);
}

std::vector<PartFault> check_own_part(Json const& part, Json const& known)
{
    std::vector<PartFault> faults;
    std::string const group = text_member(part, "group");
    if (group != "fitting" && group != "wire" && group != "spare")
        faults.push_back({"group", "say fitting, wire or spare"});
    for (auto const& field : part_fields(group))
        if (auto detail = fault_of_field(part, field); !detail.empty())
            faults.push_back({field, std::move(detail)});
    if (group == "fitting" && text_member(part, "bore").empty() && text_member(part, "volume").empty())
        faults.push_back({"volume", "give the bore or the volume: the gas inside counts"});
    std::string const id = part_id(text_member(part, "name")), own = text_member(part, "id");
    for (auto const& other : known)
        if (text_member(other, "id") != own &&
            (text_member(other, "id") == id || part_id(text_member(other, "name")) == id))
            faults.push_back({"name", "there is a part of this name already: choose another name"});
    return faults;
}

std::string part_id(std::string_view name)
{
    std::string id = "own-";
    for (char c : name)
        if (std::isalnum(static_cast<unsigned char>(c)))
            id += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        else if (id.back() != '-')
            id += '-';
    if (id.size() > 4 && id.back() == '-')
        id.pop_back();
    return id;
}

OwnParts read_own_parts(disk::Disk& disk, disk::Path const& data)
{
    OwnParts own;
    auto const folder = data / "parts";
    if (!disk.exists(folder))
        return own;
    auto const items = disk.list(folder);
    if (!items) {
        own.faults.push_back(items.error().detail);
        return own;
    }
    for (auto const& item : *items) {
        if (!item.regular || !item.name.ends_with(".json"))
            continue;
        auto const text = disk.read(folder / item.name, largest_part);
        auto part = text ? read_json(*text, item.name) : Result<Json>(tl::unexpected(text.error()));
        if (!part) {
            own.faults.push_back(part.error().where + ": " + part.error().detail);
            continue;
        }
        auto const faults = check_own_part(*part, Json::array());
        for (auto const& fault : faults)
            own.faults.push_back(fmt::format("{}: {}: {}", item.name, fault.field, fault.detail));
        std::string const id = text_member(*part, "id");
        if (id.empty() && faults.empty())
            own.faults.push_back(fmt::format("{}: id: is missing", item.name));
        if (faults.empty() && !id.empty())
            own.history[id].push_back(std::move(*part));
    }
    for (auto& [id, list] : own.history.items()) {
        std::stable_sort(list.begin(), list.end(),
                         [](Json const& a, Json const& b) { return revision_of(a) < revision_of(b); });
        if (!is_withdrawn(list.back()))
            own.parts.push_back(list.back());
    }
    return own;
}

Json OwnParts::revisions(std::string_view id) const
{
    auto const it = history.find(id);
    return it == history.end() ? Json::array() : *it;
}

int revision_of(Json const& part)
{
    return static_cast<int>(number_member(part, "revision", 1.0));
}

bool is_withdrawn(Json const& part)
{
    return member(part, "withdrawn") == true;
}

Result<void> write_own_part(disk::Disk& disk, disk::Path const& data, Json const& part)
{
    auto const folder = data / "parts";
    if (auto made = disk::make_durable_directory(disk, folder); !made)
        return made;
    int const revision = revision_of(part);
    std::string const number = revision > 1 ? fmt::format(".{}", revision) : std::string();
    return disk::write_whole(disk, folder / (text_member(part, "id") + number + ".json"),
                             part.dump(2) + "\n");
}

Json own_fittings(Json const& parts)
{
    Json list = Json::array();
    for (auto const& part : parts) {
        if (text_member(part, "group") != "fitting")
            continue;
        Json one = part;
        for (char const* told : {"group", "revision", "at", "by", "reason"})
            one.erase(told);
        for (char const* name : {"length", "bore", "volume", "mass", "cost", "max_pressure"})
            if (text_member(one, name).empty())
                one.erase(name);
        list.push_back(std::move(one));
    }
    return list;
}

Json own_kit_rules(Json const& parts)
{
    Json list = Json::array();
    for (auto const& part : parts) {
        std::string const group = text_member(part, "group");
        if (group == "fitting")
            continue;
        bool const wire = group == "wire";
        list.push_back({{"id", text_member(part, "id")},
                        {"name", text_member(part, "name")},
                        {"kind", wire ? "consumable" : "part"},
                        {"per", wire ? "wire" : text_member(part, "per")},
                        {"each", wire ? 1.0 : number_of(part, "each")},
                        {"unit", wire ? "m" : "pcs"},
                        {"cost", number_of(part, "cost")},
                        {"source", text_member(part, "source")}});
    }
    return list;
}

} // namespace isochore::session
