#include "files/checklist_links.h"
#include "files/checklist_circles.h"
#include "files/checklist_inputs.h"
#include "files/checklist_members.h"
#include "model/profile.h"
#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <set>

namespace isochore::files {
namespace {

using Code = Error::Code;
using model::Checklists;
using model::Stage;
using model::Step;
using model::StepKind;

constexpr std::string_view stage_word = "stage:";

bool takes_answer(Step const& step)
{
    return step.kind == StepKind::confirm || step.kind == StepKind::choose;
}

/// Looks every name up once for all steps.
class LinkCheck {
public:
    LinkCheck(Checklists const& checklists, std::vector<std::string> const& known_calcs, FileReport& report)
        : m_checklists(checklists), m_calcs(known_calcs.begin(), known_calcs.end()), m_report(report)
    {
    }

    void run()
    {
        collect_names();
        check_orders();
        for (auto const& stage : m_checklists.stages)
            for (std::size_t i = 0; i < stage.steps.size(); ++i)
                check_step(stage.steps[i], fmt::format("{}: steps[{}]", stage.file, i));
    }

private:
    void collect_names();
    void check_orders();
    void check_step(Step const& step, std::string const& place);
    void check_condition(Step const& step, std::string const& place);
    void check_call(model::CalcCall const& call, std::string const& place);
    void check_reference(std::string const& text, std::string const& place);
    void check_step_reference(InputReference const& reference, std::string const& place);

    Step const* find(std::string const& id) const
    {
        auto const it = m_steps.find(id);
        return it == m_steps.end() ? nullptr : it->second;
    }
    void refuse(Code code, std::string place, std::string detail)
    {
        add_fault(m_report, {code, std::move(place), std::move(detail)});
    }

    Checklists const& m_checklists;
    std::set<std::string, std::less<>> m_calcs;
    FileReport& m_report;
    std::map<std::string, Step const*, std::less<>> m_steps;
    std::set<std::string, std::less<>> m_stages;
};

void LinkCheck::collect_names()
{
    for (auto const& stage : m_checklists.stages) {
        if (!stage.id.empty() && !m_stages.insert(stage.id).second)
            refuse(Code::invalid_input, stage.file + ": id",
                   fmt::format("stage \"{}\" is there twice", stage.id));
        for (std::size_t i = 0; i < stage.steps.size(); ++i)
            if (auto const& step = stage.steps[i];
                !step.id.empty() && !m_steps.emplace(step.id, &step).second)
                refuse(Code::invalid_input, fmt::format("{}: steps[{}].id", stage.file, i),
                       fmt::format("step \"{}\" is there twice", step.id));
    }
}

void LinkCheck::check_orders()
{
    int expected = 1;
    for (auto const& stage : m_checklists.stages) {
        if (stage.order != expected)
            refuse(
                Code::invalid_input, stage.file + ": order",
                fmt::format("{} where {} is due: stages count from 1 without a gap", stage.order, expected));
        expected = stage.order + 1;
    }
}

void LinkCheck::check_step(Step const& step, std::string const& place)
{
    for (std::size_t i = 0; i < step.cautions.size(); ++i)
        if (!m_checklists.cautions.contains(step.cautions[i]))
            refuse(Code::unknown, item_place(place + ".cautions", i),
                   fmt::format("there is no caution \"{}\"", step.cautions[i]));
    for (std::size_t i = 0; i < step.needs.size(); ++i) {
        auto const& need = step.needs[i];
        bool const known = need.starts_with(stage_word) ? m_stages.contains(need.substr(stage_word.size()))
                                                        : find(need) != nullptr;
        if (!known)
            refuse(Code::unknown, item_place(place + ".needs", i),
                   fmt::format("there is no step or stage \"{}\"", need));
    }
    check_condition(step, place + ".when");
    if (step.limit) {
        check_reference(step.limit->min, place + ".limit.min");
        check_reference(step.limit->max, place + ".limit.max");
    }
    if (step.call)
        check_call(*step.call, place + ".call");
    if (step.expected)
        check_call(*step.expected, place + ".expected");
}

void LinkCheck::check_condition(Step const& step, std::string const& place)
{
    if (!step.when)
        return;
    auto const* asked = find(step.when->step);
    if (!asked || !takes_answer(*asked)) {
        refuse(Code::unknown, place + ".step",
               fmt::format("\"{}\" is no confirm or choose step", step.when->step));
        return;
    }
    for (std::size_t i = 0; i < step.when->answers.size(); ++i)
        if (std::ranges::none_of(asked->answers,
                                 [&](auto const& answer) { return answer.id == step.when->answers[i]; }))
            refuse(Code::unknown, item_place(place + ".answers", i),
                   fmt::format("step \"{}\" has no answer \"{}\"", asked->id, step.when->answers[i]));
}

void LinkCheck::check_call(model::CalcCall const& call, std::string const& place)
{
    if (!m_calcs.contains(call.calc))
        refuse(Code::unknown, place + ".calc", fmt::format("there is no calculation \"{}\"", call.calc));
    // Written by the reader itself, so it parses; a caller's own text that does not is simply not looked at.
    auto const inputs = Json::parse(call.inputs_json, nullptr, false);
    for (auto const& input : input_texts(inputs))
        check_reference(input.text, place + ".inputs." + input.place);
}

void LinkCheck::check_reference(std::string const& text, std::string const& place)
{
    auto const reference = read_input_reference(text);
    if (!reference) // reported when the step was read
        return;
    switch (reference->kind) {
    case InputReference::Kind::literal:
    case InputReference::Kind::job:
        return;
    case InputReference::Kind::profile:
        if (!model::profile_field(reference->target))
            refuse(Code::unknown, place, fmt::format("a profile has no field \"{}\"", reference->target));
        return;
    case InputReference::Kind::series:
        if (auto const* step = find(reference->target); !step || step->kind != StepKind::log)
            refuse(Code::unknown, place, fmt::format("\"{}\" is no log step", reference->target));
        return;
    case InputReference::Kind::step:
        return check_step_reference(*reference, place);
    }
}

void LinkCheck::check_step_reference(InputReference const& reference, std::string const& place)
{
    auto const* step = find(reference.target);
    if (!step)
        return refuse(Code::unknown, place, fmt::format("there is no step \"{}\"", reference.target));
    if (!reference.result.empty() && !step->call)
        refuse(
            Code::invalid_input, place,
            fmt::format("\"{}\" computes nothing, so it has no result \"{}\"", step->id, reference.result));
    if (reference.result.empty() && step->kind != StepKind::measure && !takes_answer(*step))
        refuse(Code::invalid_input, place,
               fmt::format("\"{}\" records no single value (kind {}): name a result", step->id,
                           model::step_kind_name(step->kind)));
}

} // namespace

void check_links(Checklists const& checklists, std::vector<std::string> const& known_calcs,
                 FileReport& report)
{
    LinkCheck(checklists, known_calcs, report).run();
    check_circles(checklists, report);
}

} // namespace isochore::files
