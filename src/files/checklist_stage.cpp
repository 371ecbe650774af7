#include "files/checklist_stage.h"
#include "files/checklist_members.h"
#include "files/checklist_step.h"
#include "json/read.h"
#include <fmt/format.h>

namespace isochore::files {
namespace {

using Code = Error::Code;

constexpr std::string_view stage_format = "isochore.checklist/1";
constexpr std::string_view cautions_format = "isochore.cautions/1";
constexpr int most_stages = 99;
constexpr std::size_t most_steps = 5000;
constexpr std::size_t longest_brief = 12; // model::Stage: what fits under a switching device
constexpr JsonLimits checklist_limits{4u << 20, 24};

/// The document, or null with the fault reported.
Json read_document(std::string_view text, std::string_view name, FileReport& report)
{
    auto document = read_json(text, name, checklist_limits);
    if (document)
        return std::move(*document);
    report.errors.push_back(document.error());
    return {};
}

void check_format(Members& members, std::string_view expected)
{
    (void)members.word("format", {expected});
}

bool is_date(std::string_view text)
{
    if (text.size() != 10 || text[4] != '-' || text[7] != '-')
        return false;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (i != 4 && i != 7 && (text[i] < '0' || text[i] > '9'))
            return false;
    auto const two = [&](std::size_t at) { return (text[at] - '0') * 10 + (text[at + 1] - '0'); };
    return two(5) >= 1 && two(5) <= 12 && two(8) >= 1 && two(8) <= 31;
}

void read_steps(Members& members, model::Stage& stage)
{
    Json const& list = members.array("steps", most_steps);
    if (list.empty())
        members.refuse(Code::missing_input, "steps", "a stage needs at least one step");
    for (std::size_t i = 0; i < list.size(); ++i) {
        auto const place = item_place(members.place("steps"), i);
        auto step = read_step(list[i], place, members.report());
        if (!step.id.empty() && !step.id.starts_with(stage.id + "."))
            add_fault(members.report(),
                      {Code::invalid_input, place + ".id",
                       fmt::format("\"{}\" must begin with its stage: \"{}.\"", step.id, stage.id)});
        stage.steps.push_back(std::move(step));
    }
}

} // namespace

model::Stage read_stage(std::string_view text, std::string_view name, FileReport& report)
{
    model::Stage stage;
    stage.file = name;
    Json const document = read_document(text, name, report);
    if (document.is_null())
        return stage;
    Members members(document, std::string(name) + ": ", report);
    check_format(members, stage_format);
    stage.id = members.id("id");
    stage.order = members.whole("order", 1, most_stages);
    stage.title = members.text("title");
    stage.brief = members.text("brief");
    if (character_count(stage.brief) > longest_brief)
        members.refuse(Code::out_of_range, "brief",
                       fmt::format("\"{}\" is longer than {} characters", stage.brief, longest_brief));
    stage.about = members.text_or("about");
    stage.before_window = members.flag_or("before_window", false);
    stage.revision = members.whole("revision", 1, 1000000);
    stage.date = members.text("date");
    if (!stage.date.empty() && !is_date(stage.date))
        members.refuse(Code::invalid_input, "date",
                       fmt::format("\"{}\" is not a date like 2026-11-25", stage.date));
    stage.source = members.text("source");
    read_steps(members, stage);
    members.refuse_rest();
    return stage;
}

Cautions read_cautions(std::string_view text, std::string_view name, FileReport& report)
{
    Cautions cautions;
    Json const document = read_document(text, name, report);
    if (document.is_null())
        return cautions;
    Members members(document, std::string(name) + ": ", report);
    check_format(members, cautions_format);
    Json const& list = members.array("cautions");
    for (std::size_t i = 0; i < list.size(); ++i) {
        Members item(list[i], item_place(members.place("cautions"), i), report);
        model::Caution caution{item.id("id"), item.text("title"), item.text("text")};
        item.refuse_rest();
        auto const id = caution.id;
        if (!cautions.emplace(id, std::move(caution)).second)
            item.refuse(Code::invalid_input, "id", fmt::format("caution \"{}\" is there twice", id));
    }
    members.refuse_rest();
    return cautions;
}

} // namespace isochore::files
