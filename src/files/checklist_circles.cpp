#include "files/checklist_circles.h"
#include "files/checklist_members.h"
#include <algorithm>
#include <fmt/format.h>
#include <map>

namespace isochore::files {
namespace {

/// Steps and stages as nodes ("fill.topup", "stage:safe"), an arrow to each thing waited for. A stage waits
/// for its steps, so that "stage:safe" costs one arrow and not one a step.
struct Waiting {
    std::vector<std::string> names;
    std::vector<std::string> places;
    std::vector<std::vector<std::size_t>> waits_for;
};

Waiting waiting_of(model::Checklists const& checklists)
{
    Waiting graph;
    std::map<std::string, std::size_t, std::less<>> index;
    auto const add = [&](std::string name, std::string place) {
        index.emplace(name, graph.names.size());
        graph.names.push_back(std::move(name));
        graph.places.push_back(std::move(place));
    };
    for (auto const& stage : checklists.stages) {
        add("stage:" + stage.id, stage.file);
        for (std::size_t i = 0; i < stage.steps.size(); ++i)
            add(stage.steps[i].id, fmt::format("{}: steps[{}].needs", stage.file, i));
    }
    graph.waits_for.resize(graph.names.size());
    std::size_t node = 0;
    auto const wait = [&](std::size_t from, std::string const& name) {
        if (auto const it = index.find(name); it != index.end())
            graph.waits_for[from].push_back(it->second);
    };
    for (auto const& stage : checklists.stages) {
        std::size_t const stage_node = node++;
        for (auto const& step : stage.steps) {
            graph.waits_for[stage_node].push_back(node);
            for (auto const& need : step.needs)
                wait(node, need);
            if (step.when)
                wait(node, step.when->step);
            if (step.kind == model::StepKind::compute && step.call)
                for (auto const& used : step.call->uses)
                    wait(node, used);
            ++node;
        }
    }
    return graph;
}

std::string way_round(Waiting const& graph, std::vector<std::size_t> const& path, std::size_t from)
{
    constexpr std::size_t most_names = 12;
    auto const first = std::ranges::find(path, from);
    auto const length = static_cast<std::size_t>(path.end() - first);
    std::string text;
    for (auto it = first; it != path.end() && it < first + most_names; ++it)
        text += graph.names[*it] + " waits for ";
    if (length > most_names)
        text += fmt::format("{} more, and these for ", length - most_names);
    return text + graph.names[from];
}

} // namespace

void check_circles(model::Checklists const& checklists, FileReport& report)
{
    enum class Mark { fresh, open, closed };
    Waiting const graph = waiting_of(checklists);
    std::vector<Mark> marks(graph.names.size(), Mark::fresh);
    // Depth first with a stack of our own: a long chain of needs in a bad file must not exhaust the call
    // stack.
    std::vector<std::size_t> path;
    std::vector<std::size_t> next(graph.names.size(), 0);
    for (std::size_t start = 0; start < graph.names.size(); ++start) {
        if (marks[start] != Mark::fresh)
            continue;
        path.push_back(start);
        marks[start] = Mark::open;
        while (!path.empty()) {
            std::size_t const node = path.back();
            if (next[node] == graph.waits_for[node].size()) {
                marks[node] = Mark::closed;
                path.pop_back();
                continue;
            }
            std::size_t const other = graph.waits_for[node][next[node]++];
            if (marks[other] == Mark::open) {
                add_fault(report, {Error::Code::invalid_input, graph.places[other],
                                   "a circle: " + way_round(graph, path, other)});
            } else if (marks[other] == Mark::fresh) {
                marks[other] = Mark::open;
                path.push_back(other);
            }
        }
    }
}

} // namespace isochore::files
