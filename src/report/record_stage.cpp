#include "drawing/marks.h"
#include "report/record_pages.h"
#include <fmt/format.h>

namespace isochore::report {

using namespace drawing;

namespace {

/// Step, seen, expected, limit, verdict, who.
std::vector<double> const step_shares{0.225, 0.15, 0.195, 0.185, 0.13, 0.115};
constexpr double detail_left = 7.0; ///< where the lines under a step start

Row step_head(Flow const& flow)
{
    Row head;
    head.columns = columns_of(flow, step_shares);
    std::string const names[] = {flow.words("Step"),     flow.words("Seen, as typed"),
                                 flow.words("Expected"), flow.words("Limit and its source"),
                                 flow.words("Verdict"),  flow.words("Who, when")};
    for (std::size_t c = 0; c < head.columns.size(); ++c)
        head.columns[c].texts = {head_text(names[c])};
    head.above = Rule::line;
    return head;
}

std::vector<CellText> seen_texts(StepRow const& step)
{
    std::vector<CellText> texts;
    for (auto const& correction : step.corrections) {
        CellText old{correction.old_value, Face::regular, Ink::muted};
        old.struck = true;
        texts.push_back(std::move(old));
    }
    texts.push_back({step.value, Face::bold});
    return texts;
}

/// The prediction, and its interval on a line of its own.
std::vector<CellText> expected_texts(StepRow const& step)
{
    auto const bracket = step.expected.find(" (");
    if (bracket == std::string::npos)
        return {{step.expected}};
    return {{step.expected.substr(0, bracket)},
            {step.expected.substr(bracket + 1), Face::regular, Ink::muted, paper_size::small}};
}

std::vector<CellText> limit_texts(Flow const& flow, StepRow const& step)
{
    std::vector<CellText> texts{{step.limit}};
    texts.push_back({step.limit_source, Face::regular, Ink::muted, paper_size::small});
    if (step.limit_confirmed)
        texts.push_back({flow.words(*step.limit_confirmed ? "confirmed" : "not confirmed"),
                         *step.limit_confirmed ? Face::regular : Face::bold,
                         *step.limit_confirmed ? Ink::muted : Ink::undecided, paper_size::small});
    return texts;
}

Row step_row(Flow const& flow, StepRow const& step)
{
    Row row;
    row.columns = columns_of(flow, step_shares);
    row.columns[0].texts = {{step.number.empty() ? step.title : step.number + "  " + step.title}};
    row.columns[1].texts = seen_texts(step);
    row.columns[2].texts = expected_texts(step);
    // What has no limit, or neither prediction nor limit as computed steps have, takes the free columns.
    bool const no_limit = step.limit.empty() && step.limit_source.empty() && !step.limit_confirmed;
    Column const& last = row.columns[no_limit ? 3 : 2];
    Column& wide = row.columns[step.expected.empty() ? 1 : 2];
    wide.width = last.left + last.width - wide.left;
    row.columns[3].texts = limit_texts(flow, step);
    CellText verdict{step.verdict.empty() ? flow.words(mark_word(step.mark)) : step.verdict, Face::bold,
                     mark_ink(step.mark)};
    verdict.mark = step.mark;
    row.columns[4].texts = {std::move(verdict)};
    row.columns[5].texts = {{step.who, Face::regular, Ink::text, paper_size::small},
                            {step.when, Face::regular, Ink::muted, paper_size::small}};
    row.above = Rule::faint;
    return row;
}

/// A line under a step: what it is, and the words.
Row detail(Flow const& flow, std::string name, std::vector<CellText> texts)
{
    Row row;
    row.columns = columns_of(flow, {0.13, 0.87}, detail_left);
    row.columns[0].texts = {{std::move(name), Face::regular, Ink::muted, paper_size::small}};
    row.columns[1].texts = std::move(texts);
    row.before = 0.0;
    row.after = 0.5;
    return row;
}

CellText small(std::string text, Ink ink = Ink::text)
{
    return {std::move(text), Face::regular, ink, paper_size::small};
}

/// Formula on the left, its numbers and their source beside it.
Row working_row(Flow const& flow, WorkingLine const& line, bool first)
{
    Row row;
    row.columns = columns_of(flow, {0.13, 0.3, 0.57}, detail_left);
    row.columns[0].texts = {
        {first ? flow.words("Working") : std::string(), Face::regular, Ink::muted, paper_size::small}};
    row.columns[1].texts = {small(line.formula)};
    row.columns[2].texts = {small(line.numbers), small(line.source, Ink::muted)};
    row.before = 0.0;
    row.after = 0.5;
    return row;
}

std::vector<CellText> budget_texts(StepRow const& step)
{
    std::vector<CellText> texts;
    for (auto const& line : step.budget) {
        CellText text = small(line.text.empty() ? line.input : line.input + ": " + line.text);
        text.bar = line.share;
        texts.push_back(std::move(text));
    }
    return texts;
}

std::vector<Row> details(Flow const& flow, StepRow const& step)
{
    std::vector<Row> rows;
    if (!step.reason.empty())
        rows.push_back(detail(flow, flow.words("Reason"), {{step.reason}}));
    if (!step.instrument.empty())
        rows.push_back(detail(flow, flow.words("Instrument"), {small(step.instrument)}));
    for (auto const& note : step.notes)
        rows.push_back(
            detail(flow, &note == &step.notes.front() ? flow.words("Note") : std::string(), {small(note)}));
    for (auto const& c : step.corrections) {
        std::string const text = c.why.empty() ? flow.words("was entered by {}, {}", {c.who, c.when})
                                               : flow.words("was entered by {}, {}; corrected because: {}",
                                                            {c.who, c.when, c.why});
        CellText old = small(c.old_value, Ink::muted);
        old.struck = true;
        rows.push_back(detail(flow, flow.words("Corrected"), {std::move(old), small(text)}));
    }
    for (auto const& line : step.working)
        rows.push_back(working_row(flow, line, &line == &step.working.front()));
    if (!step.budget.empty())
        rows.push_back(detail(flow, flow.words("Uncertainty"), budget_texts(step)));
    return rows;
}

void add_step(Flow& flow, StepRow const& step, bool keep_with_next)
{
    Row row = step_row(flow, step);
    auto rows = details(flow, step);
    row.keep_with_next = !rows.empty() || keep_with_next;
    flow.add(std::move(row));
    for (std::size_t i = 0; i < rows.size(); ++i) {
        rows[i].keep_with_next = i + 1 < rows.size() || keep_with_next;
        flow.add(std::move(rows[i]));
    }
}

/// A step of few lines: such a one may be kept with its neighbour so that it never stands alone.
bool short_step(StepRow const& step)
{
    return step.working.size() + step.budget.size() + step.corrections.size() + step.notes.size() <= 5 &&
           step.reason.size() < 300;
}

} // namespace

void add_picture(Flow& flow, RecordPicture const& picture)
{
    if (!picture.draw)
        return;
    // Drawn larger and shrunk: pictures choose their type for a screen, paper is read closer.
    constexpr double shrink = 0.72;
    double const width = std::min(picture.width_mm, flow.width());
    Picture drawn = picture.draw(width / shrink, picture.height_mm / shrink, flow.measure());
    Fixed fixed;
    fixed.height = picture.height_mm + 1.0;
    fixed.keep_with_next = true;
    double const indent = (flow.width() - width) / 2.0;
    fixed.draw = [drawn = std::move(drawn), indent](Picture& sheet, double left, double top) {
        append(sheet, drawn, {left + indent, top}, shrink);
    };
    flow.gap(3.0);
    flow.add(std::move(fixed));
    Row caption;
    caption.columns = columns_of(flow, {1.0});
    caption.columns[0].texts = {{picture.caption, Face::regular, Ink::muted, paper_size::small}};
    caption.columns[0].texts[0].align = Align::centre;
    flow.add(std::move(caption));
}

void add_stage(Flow& flow, RecordStage const& stage)
{
    std::string const heading = stage.number.empty() ? stage.title : stage.number + "  " + stage.title;
    flow.gap(2.0);
    flow.bookmark(heading);
    add_heading(flow, heading, stage.state);
    if (!stage.steps.empty()) {
        flow.begin_table(step_head(flow));
        for (std::size_t i = 0; i < stage.steps.size(); ++i) {
            bool const first = i == 0 && stage.steps.size() > 1;
            bool const last_but_one = i + 2 == stage.steps.size();
            add_step(flow, stage.steps[i],
                     (first || last_but_one) && short_step(stage.steps[i]) && short_step(stage.steps[i + 1]));
        }
        flow.end_table();
    }
    for (auto const& table : stage.tables)
        add_table(flow, table);
    for (auto const& picture : stage.pictures)
        add_picture(flow, picture);
}

} // namespace isochore::report
